from decimal import Decimal

import django.core.validators
from django.db import migrations, models


def _most() -> models.DecimalField:
    bounds = [
        django.core.validators.MinValueValidator(Decimal(0)),
        django.core.validators.MaxValueValidator(Decimal(480)),
    ]
    return models.DecimalField(max_digits=9, decimal_places=5, default=Decimal(1), validators=bounds)


class Migration(migrations.Migration):
    dependencies = [
        ("openings", "0017_straps_are_recorded_by_themselves"),
    ]

    operations = [
        migrations.AddField(model_name="installationdetail", name="most_clearance_width_in", field=_most()),
        migrations.AddField(model_name="installationdetail", name="most_clearance_height_in", field=_most()),
    ]
