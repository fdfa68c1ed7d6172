from django.db import migrations
from django.db.models import Q


def keep_the_strip_where_nothing_else_covers_the_leg(apps, schema_editor):
    """A drip cap set first was covered by a strip of its own; now the head membrane covers it, where there is one.

    Where there is none the strip stays, under the choice that says so, and draw and steps are what they were.
    """
    details = apps.get_model("openings", "InstallationDetail").objects.filter(head_flashing="before membrane")
    is_bare = Q(has_head_membrane=False) | Q(mounting="box frame", barrier_before_window=True)
    details.filter(is_bare).update(head_flashing="under second strip")


def record_the_straps(apps, schema_editor):
    """The step that fastened a unit meant its straps too, both ends of them: who recorded it did both, and then.

    So it is for installs that are done, whose record would else lack a step. Where the unit is set and not fastened,
    nobody has said that a strap is on it: the step stays open, may be recorded late and keeps its material on the
    sheet.
    """
    steps = apps.get_model("openings", "StepRecord")
    fastened = steps.objects.filter(step="fasten", record__opening__detail__has_straps=True)
    for one in fastened.exclude(record__steps__step="straps").iterator():
        steps.objects.create(
            record_id=one.record_id, step="straps", recorded_by_id=one.recorded_by_id, recorded_at=one.recorded_at
        )


class Migration(migrations.Migration):
    dependencies = [("openings", "0016_the_head_the_pan_and_an_order_of_ones_own")]

    operations = [
        migrations.RunPython(keep_the_strip_where_nothing_else_covers_the_leg, migrations.RunPython.noop),
        migrations.RunPython(record_the_straps, migrations.RunPython.noop),
    ]
