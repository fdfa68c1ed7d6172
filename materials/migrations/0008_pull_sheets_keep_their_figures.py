"""Pull sheets keep the figures that they are compared by, where they kept a digest of everything."""

from django.db import migrations, models
from django.db.models import Q


class Migration(migrations.Migration):
    dependencies = [
        ("materials", "0007_tell_what_is_on_trucks"),
    ]

    operations = [
        migrations.RemoveConstraint(model_name="pullsheet", name="pull_sheet_has_workbook_once_written"),
        migrations.RemoveField(model_name="pullsheet", name="basis"),
        migrations.AddField(
            model_name="pullsheet",
            name="basis",
            field=models.JSONField(
                blank=True,
                help_text="The figures that the sheet is compared by; empty where they were not kept.",
                null=True,
            ),
        ),
        migrations.AddConstraint(
            model_name="pullsheet",
            constraint=models.CheckConstraint(
                condition=~Q(state="written") | Q(workbook__isnull=False, written_at__isnull=False),
                name="pull_sheet_has_workbook_once_written",
            ),
        ),
    ]
