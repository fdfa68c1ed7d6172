from django.db import migrations


def keep_drain_gaps(apps, schema_editor):
    """The bead of a box frame had gaps at both ends of the sill before a detail could say otherwise."""
    details = apps.get_model("openings", "InstallationDetail").objects.filter(mounting="box frame")
    details.update(sill_bead="gaps at both ends")


class Migration(migrations.Migration):
    dependencies = [("openings", "0002_every_figure")]

    operations = [migrations.RunPython(keep_drain_gaps, migrations.RunPython.noop)]
