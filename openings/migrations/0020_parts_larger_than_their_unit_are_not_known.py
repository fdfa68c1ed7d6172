"""What was entered of a pane or a clear opening and cannot be: nobody said it, and the advice asks for it again."""

from django.db import migrations

FORGET = """
UPDATE openings_opening SET
  clear_width_in = CASE WHEN clear_width_in <= unit_width_in THEN clear_width_in END,
  clear_height_in = CASE WHEN clear_height_in <= unit_height_in THEN clear_height_in END,
  pane_width_in = CASE WHEN pane_width_in <= unit_width_in THEN pane_width_in END,
  pane_height_in = CASE WHEN pane_height_in <= unit_height_in THEN pane_height_in END
WHERE clear_width_in > unit_width_in OR clear_height_in > unit_height_in
  OR pane_width_in > unit_width_in OR pane_height_in > unit_height_in
"""


class Migration(migrations.Migration):
    dependencies = [
        ("openings", "0019_details_allow_the_clearance_they_ask_for"),
    ]

    operations = [migrations.RunSQL(FORGET, migrations.RunSQL.noop)]
