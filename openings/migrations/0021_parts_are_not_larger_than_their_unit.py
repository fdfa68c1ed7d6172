from django.db import migrations, models


def _within(part: str, side: str) -> models.Q:
    return models.Q((f"{part}__isnull", True), (f"{part}__lte", models.F(side)), _connector="OR")


class Migration(migrations.Migration):
    dependencies = [
        ("openings", "0020_parts_larger_than_their_unit_are_not_known"),
    ]

    operations = [
        migrations.AddConstraint(
            model_name="opening",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    _within("clear_width_in", "unit_width_in"), _within("clear_height_in", "unit_height_in")
                ),
                name="clear_opening_is_not_larger_than_its_unit",
                violation_error_message="The clear opening is larger than its unit.",
            ),
        ),
        migrations.AddConstraint(
            model_name="opening",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    _within("pane_width_in", "unit_width_in"), _within("pane_height_in", "unit_height_in")
                ),
                name="pane_is_not_larger_than_its_unit",
                violation_error_message="The pane is larger than its unit.",
            ),
        ),
    ]
