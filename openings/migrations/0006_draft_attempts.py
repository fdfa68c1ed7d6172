from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("openings", "0005_what_was_not_measured_and_who_confirmed_a_weight"),
    ]

    operations = [
        migrations.AddField(
            model_name="scheduledraft",
            name="attempts",
            field=models.PositiveSmallIntegerField(
                default=0, help_text="How often reading or taking it was begun and did not come to an end."
            ),
        ),
    ]
