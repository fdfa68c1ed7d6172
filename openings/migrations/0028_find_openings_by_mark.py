"""Openings are found by how their mark begins, in capitals or not."""

import django.contrib.postgres.indexes
import django.db.models.functions.text
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0013_sign_ins_and_tokens"),
        ("openings", "0027_what_was_done_by_hand"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddIndex(
            model_name="opening",
            index=models.Index(
                django.contrib.postgres.indexes.OpClass(
                    django.db.models.functions.text.Upper("mark"), name="text_pattern_ops"
                ),
                name="openings_by_how_marks_begin",
            ),
        ),
    ]
