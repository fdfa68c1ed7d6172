from django.db import migrations, models

HALF_AN_INCH_MORE = """
UPDATE openings_installationdetail SET
  most_clearance_width_in = least(480, greatest(1, ro_clearance_width_in + 0.5)),
  most_clearance_height_in = least(480, greatest(1, ro_clearance_height_in + 0.5))
WHERE ro_clearance_width_in > 0.5 OR ro_clearance_height_in > 0.5
"""


class Migration(migrations.Migration):
    dependencies = [
        ("openings", "0018_clearances_have_an_upper_limit"),
    ]

    operations = [
        migrations.RunSQL(HALF_AN_INCH_MORE, migrations.RunSQL.noop),
        migrations.AddConstraint(
            model_name="installationdetail",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("most_clearance_width_in__gte", models.F("ro_clearance_width_in")),
                    ("most_clearance_height_in__gte", models.F("ro_clearance_height_in")),
                ),
                name="detail_allows_the_clearance_it_asks_for",
            ),
        ),
    ]
