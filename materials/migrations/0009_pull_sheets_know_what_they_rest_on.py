"""Issued pull sheets keep a digest of the rows with which they were last found to agree."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("materials", "0008_pull_sheets_keep_their_figures"),
    ]

    operations = [
        migrations.AddField(
            model_name="pullsheet",
            name="rests_on",
            field=models.CharField(
                blank=True,
                default="",
                help_text="Digest of the rows with which it was last found to say what is so.",
                max_length=32,
            ),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="pullsheet",
            name="looked_at",
            field=models.DateTimeField(blank=True, help_text="When that was.", null=True),
        ),
    ]
