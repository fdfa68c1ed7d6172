"""Sign-ins are kept, tokens have names, and somebody can sign out everywhere. Tokens from before, of 12 hours, end."""

import django.db.models.deletion
import django.db.models.functions.datetime
from django.conf import settings
from django.db import migrations, models


def says_when(table):
    """Keep `updated_at` of a table; a change that changes nothing leaves it."""
    return migrations.RunSQL(
        f"""
        CREATE TRIGGER says_when_it_was_added BEFORE INSERT ON {table}
        FOR EACH ROW EXECUTE FUNCTION says_when_it_changed();
        CREATE TRIGGER says_when_it_changed BEFORE UPDATE ON {table}
        FOR EACH ROW WHEN (OLD.* IS DISTINCT FROM NEW.*) EXECUTE FUNCTION says_when_it_changed();
        """,
        f"DROP TRIGGER says_when_it_was_added ON {table}; DROP TRIGGER says_when_it_changed ON {table};",
    )


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0012_invitations"),
    ]

    operations = [
        migrations.AddField(
            model_name="person",
            name="sign_outs",
            field=models.PositiveIntegerField(
                default=0,
                editable=False,
                help_text="How often they signed out everywhere; sessions from before have ended.",
            ),
        ),
        migrations.CreateModel(
            name="SignIn",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(help_text="As it was typed.", max_length=150)),
                (
                    "counted_as",
                    models.CharField(editable=False, help_text="The name by which wrong tries count.", max_length=300),
                ),
                (
                    "address",
                    models.GenericIPAddressField(
                        blank=True, help_text="Where it came from, if anything says so.", null=True
                    ),
                ),
                (
                    "network",
                    models.CharField(
                        blank=True, editable=False, help_text="The address by which wrong tries count.", max_length=50
                    ),
                ),
                (
                    "outcome",
                    models.CharField(
                        choices=[
                            ("right", "Right password"),
                            ("wrong", "Wrong password"),
                            ("unknown", "Nobody has this name"),
                            ("left", "No longer active"),
                            ("unlocked", "Unlocked by an owner"),
                        ],
                        max_length=10,
                    ),
                ),
                ("at", models.DateTimeField(auto_now_add=True, db_index=True)),
                (
                    "refused_count",
                    models.PositiveIntegerField(
                        default=0,
                        help_text="Further tries after this one that were refused without a look at the password.",
                    ),
                ),
                (
                    "updated_at",
                    models.DateTimeField(
                        db_default=django.db.models.functions.datetime.Now(),
                        db_index=True,
                        editable=False,
                        help_text="When it was last changed, as the database saw it.",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        blank=True,
                        help_text="Whose name it is.",
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="sign_ins",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["-at", "-pk"],
                "indexes": [
                    models.Index(fields=["counted_as", "at"], name="sign_ins_by_name"),
                    models.Index(fields=["network", "at"], name="sign_ins_by_network"),
                ],
            },
        ),
        migrations.CreateModel(
            name="Token",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "digest",
                    models.CharField(editable=False, help_text="SHA-256 of the secret.", max_length=64, unique=True),
                ),
                (
                    "begins_with",
                    models.CharField(
                        editable=False, help_text="The letters that its secret begins with.", max_length=8
                    ),
                ),
                ("name", models.CharField(help_text="What it is for.", max_length=60)),
                ("made_at", models.DateTimeField(auto_now_add=True)),
                ("expires_at", models.DateTimeField(help_text="When it ends.")),
                (
                    "updated_at",
                    models.DateTimeField(
                        db_default=django.db.models.functions.datetime.Now(),
                        db_index=True,
                        editable=False,
                        help_text="When it was last changed, as the database saw it.",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="tokens", to=settings.AUTH_USER_MODEL
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("name", ""), _negated=True), name="token_says_what_for")
                ],
            },
        ),
        says_when("jobs_signin"),
        says_when("jobs_token"),
        migrations.RunSQL("DROP TABLE IF EXISTS knox_authtoken", migrations.RunSQL.noop),
    ]
