"""Two places of an hour lost the minute: 2:20 is 2 1/3 hours."""

from decimal import Decimal

import django.core.validators
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("openings", "0006_draft_attempts")]

    operations = [
        migrations.AlterField(
            model_name="hourrecord",
            name="person_h",
            field=models.DecimalField(
                decimal_places=5,
                max_digits=7,
                help_text="Hours; five places keep every minute.",
                validators=[
                    django.core.validators.MinValueValidator(Decimal("0.01")),
                    django.core.validators.MaxValueValidator(Decimal("24")),
                ],
            ),
        ),
    ]
