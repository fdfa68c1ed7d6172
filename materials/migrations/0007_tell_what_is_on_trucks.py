"""Tell the floor below which openings the newest sheets list, and whose material is on a truck."""

from django.db import migrations
from django.db.models import Exists, Min, OuterRef

WRITTEN = "written"


def tell_openings(apps, schema_editor):
    """Make a row for each opening that the newest written sheet of a crew day lists. Five queries and the rows."""
    OnSheet = apps.get_model("openings", "OnSheet")
    loaded_at = _loaded_at(apps.get_model("materials", "Movement"))
    issued_at = _issued_at(apps.get_model("materials", "PullSheet"))
    rows = []
    for crew_day_id, opening_id, is_on_truck in _listed(apps):
        number, issued = f"P{crew_day_id:05d}", issued_at[crew_day_id, opening_id]
        since = max(issued, loaded_at.get(number, issued)) if is_on_truck else None
        rows.append(
            OnSheet(
                crew_day_id=crew_day_id, opening_id=opening_id, sheet=number, issued_at=issued, on_truck_since=since
            )
        )
    OnSheet.objects.bulk_create(rows, batch_size=5000, ignore_conflicts=True)


def _listed(apps):
    """Yield by newest written sheet its crew day, an opening, and whether something is loaded and the truck not back."""
    PullSheet = apps.get_model("materials", "PullSheet")
    loaded = apps.get_model("materials", "PullSheetLine").objects.filter(sheet=OuterRef("pk"), loaded_packages__gt=0)
    back = apps.get_model("materials", "PlannedRoll").objects.filter(sheet=OuterRef("pk"), came_back_in__isnull=False)
    written = PullSheet.objects.filter(state=WRITTEN)
    newer = written.filter(crew_day=OuterRef("crew_day"), revision__gt=OuterRef("revision"))
    newest = written.exclude(Exists(newer)).filter(openings__isnull=False)
    return (
        newest.annotate(is_on_truck=Exists(loaded) & ~Exists(back))
        .order_by()
        .values_list("crew_day", "openings", "is_on_truck")
    )


def _issued_at(sheets):
    """Return by crew day and opening when a sheet listed it first."""
    listed = sheets.objects.filter(state=WRITTEN, openings__isnull=False).order_by()
    return {(day, opening): at for day, opening, at in listed.values_list("crew_day", "openings", Min("written_at"))}


def _loaded_at(movements):
    """Return by number of a sheet when something was loaded from it first."""
    loads = movements.objects.filter(destination__kind="truck", reason__startswith="P").order_by()
    found = {}
    for reason, at in loads.values_list("reason", Min("moved_at")):
        number = reason.split(" ")[0]
        found[number] = min(at, found.get(number, at))
    return found


class Migration(migrations.Migration):
    dependencies = [
        ("materials", "0006_history_keeps_its_meaning"),
        ("openings", "0010_what_the_warehouse_told"),
    ]

    operations = [migrations.RunPython(tell_openings, migrations.RunPython.noop)]
