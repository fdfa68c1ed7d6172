from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("materials", "0013_plainer_refusals")]

    operations = [
        migrations.AddIndex(
            model_name="pullsheet",
            index=models.Index(fields=["requested_at", "id"], name="pull_sheets_in_order"),
        ),
    ]
