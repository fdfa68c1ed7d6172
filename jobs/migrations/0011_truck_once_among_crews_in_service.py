"""No two crews in service ride in one truck."""

import django.db.models.functions.text
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("jobs", "0010_each_crew_a_truck_of_its_own")]

    operations = [
        migrations.AddConstraint(
            model_name="crew",
            constraint=models.UniqueConstraint(
                django.db.models.functions.text.Lower("truck"),
                condition=models.Q(("retired_at", None)),
                name="truck_once_among_crews_in_service",
                violation_error_code="unique",
                violation_error_message="Another crew in service has this truck: give each crew a truck of its own.",
            ),
        ),
    ]
