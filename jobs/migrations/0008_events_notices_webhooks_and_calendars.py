"""What happened and who is told of it: events, notices and their letters, webhooks, links of calendars."""

import uuid

import django.contrib.postgres.fields
import django.db.models.deletion
import django.db.models.functions.datetime
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

TABLES = ("jobs_webhook", "jobs_calendarlink")


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
        ("jobs", "0007_plainer_refusals"),
    ]

    operations = [
        migrations.CreateModel(
            name="Event",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("day_changed", "A crew’s day changed"),
                            ("sheet_revised", "A pull sheet was revised after loading"),
                            ("stranded", "Openings are stranded"),
                            ("delivery_late", "A delivery is late"),
                            ("cover_by_near", "What must be covered soon"),
                            ("no_sheet", "No pull sheet at the cut-off"),
                        ],
                        max_length=20,
                    ),
                ),
                ("told_at", models.DateTimeField(db_index=True, default=django.utils.timezone.now)),
                ("said", models.TextField(help_text="What happened, in whole sentences.", max_length=4000)),
                ("on", models.DateField(blank=True, help_text="The day that it is about.", null=True)),
                (
                    "about",
                    models.JSONField(
                        blank=True, default=list, help_text="The rows it is about: type, id and name of each."
                    ),
                ),
                (
                    "spread_at",
                    models.DateTimeField(
                        blank=True, help_text="When notices and calls of webhooks were made of it.", null=True
                    ),
                ),
                (
                    "by",
                    models.ForeignKey(
                        blank=True,
                        help_text="Who did it, and so needs no notice of it.",
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "crew",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="jobs.crew",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="jobs.job",
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="EventKey",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=200, unique=True)),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="keys", to="jobs.event"
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="Letter",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("address", models.EmailField(max_length=254)),
                ("subject", models.CharField(max_length=200)),
                ("text", models.TextField()),
                ("written_at", models.DateTimeField(default=django.utils.timezone.now)),
                ("try_at", models.DateTimeField(default=django.utils.timezone.now, help_text="When it is tried next.")),
                ("tries", models.PositiveSmallIntegerField(default=0)),
                (
                    "failure",
                    models.CharField(blank=True, help_text="Why the last try did not succeed.", max_length=300),
                ),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
                ("gave_up_at", models.DateTimeField(blank=True, null=True)),
                (
                    "shown_at",
                    models.DateTimeField(
                        blank=True,
                        help_text="When it was written to the log, where no mail server is set up.",
                        null=True,
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        blank=True,
                        help_text="Whose notices it tells.",
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="Notice",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("due_at", models.DateTimeField(help_text="When it is mailed, with all else that is due then.")),
                (
                    "event",
                    models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="+", to="jobs.event"),
                ),
                (
                    "letter",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="notices",
                        to="jobs.letter",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
            ],
            options={
                "ordering": ["-id"],
            },
        ),
        migrations.CreateModel(
            name="NoticeChoice",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("day_changed", "A crew’s day changed"),
                            ("sheet_revised", "A pull sheet was revised after loading"),
                            ("stranded", "Openings are stranded"),
                            ("delivery_late", "A delivery is late"),
                            ("cover_by_near", "What must be covered soon"),
                            ("no_sheet", "No pull sheet at the cut-off"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "how",
                    models.CharField(
                        choices=[("at once", "at once"), ("once a day", "once a day"), ("never", "never")],
                        max_length=12,
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="Webhook",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(help_text="What is called, such as payroll.", max_length=60, unique=True)),
                ("address", models.URLField(max_length=500)),
                ("secret", models.CharField(editable=False, max_length=64)),
                (
                    "kinds",
                    django.contrib.postgres.fields.ArrayField(
                        base_field=models.CharField(
                            choices=[
                                ("day_changed", "A crew’s day changed"),
                                ("sheet_revised", "A pull sheet was revised after loading"),
                                ("stranded", "Openings are stranded"),
                                ("delivery_late", "A delivery is late"),
                                ("cover_by_near", "What must be covered soon"),
                                ("no_sheet", "No pull sheet at the cut-off"),
                            ],
                            max_length=20,
                        ),
                        blank=True,
                        default=list,
                        help_text="The kinds of events that it is called with; none named: all.",
                        size=None,
                    ),
                ),
                ("added_at", models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                (
                    "stopped_at",
                    models.DateTimeField(blank=True, help_text="Since when it is called no more.", null=True),
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
                    "added_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["name"],
            },
        ),
        migrations.CreateModel(
            name="WebhookTry",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("tries", models.PositiveSmallIntegerField(default=0)),
                (
                    "try_at",
                    models.DateTimeField(default=django.utils.timezone.now, help_text="When it is called next."),
                ),
                ("tried_at", models.DateTimeField(blank=True, null=True)),
                (
                    "status",
                    models.PositiveSmallIntegerField(blank=True, help_text="The status of the last answer.", null=True),
                ),
                (
                    "failure",
                    models.CharField(blank=True, help_text="Why the last call did not succeed.", max_length=300),
                ),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
                ("gave_up_at", models.DateTimeField(blank=True, null=True)),
                (
                    "event",
                    models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="+", to="jobs.event"),
                ),
                (
                    "webhook",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="tries", to="jobs.webhook"
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "webhook tries",
                "ordering": ["-id"],
            },
        ),
        migrations.CreateModel(
            name="CalendarLink",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "label",
                    models.CharField(help_text="Who reads it, such as the builder’s site manager.", max_length=80),
                ),
                ("token_sha256", models.CharField(editable=False, max_length=64, unique=True)),
                (
                    "namespace",
                    models.UUIDField(
                        default=uuid.uuid4, editable=False, help_text="What the UIDs of its entries are made with."
                    ),
                ),
                ("made_at", models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                ("revoked_at", models.DateTimeField(blank=True, null=True)),
                (
                    "read_at",
                    models.DateTimeField(blank=True, help_text="When a calendar last read it, to the hour.", null=True),
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
                    "crew",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="jobs.crew",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="jobs.job",
                    ),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["id"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("crew__isnull", False), ("job__isnull", True)),
                            models.Q(("crew__isnull", True), ("job__isnull", False)),
                            _connector="OR",
                        ),
                        name="calendar_is_of_a_crew_or_a_job",
                        violation_error_message="A calendar link is for one crew or for one job: choose one of them.",
                    )
                ],
            },
        ),
        migrations.AddIndex(
            model_name="event",
            index=models.Index(
                condition=models.Q(("spread_at__isnull", True)), fields=["id"], name="events_to_be_spread"
            ),
        ),
        migrations.AddIndex(
            model_name="event",
            index=models.Index(fields=["crew", "on"], name="events_by_crew_day"),
        ),
        migrations.AddIndex(
            model_name="letter",
            index=models.Index(
                condition=models.Q(("gave_up_at__isnull", True), ("sent_at__isnull", True)),
                fields=["try_at"],
                name="letters_waiting_by_next_try",
            ),
        ),
        migrations.AddIndex(
            model_name="letter",
            index=models.Index(fields=["person", "written_at"], name="letters_by_person"),
        ),
        migrations.AddConstraint(
            model_name="letter",
            constraint=models.CheckConstraint(
                condition=models.Q(("sent_at__isnull", True), ("gave_up_at__isnull", True), _connector="OR"),
                name="letter_sent_is_not_given_up",
            ),
        ),
        migrations.AddIndex(
            model_name="notice",
            index=models.Index(
                condition=models.Q(("letter__isnull", True)), fields=["due_at"], name="notices_not_mailed_by_when_due"
            ),
        ),
        migrations.AddConstraint(
            model_name="notice",
            constraint=models.UniqueConstraint(fields=("person", "event"), name="notice_once_per_person_and_event"),
        ),
        migrations.AddConstraint(
            model_name="noticechoice",
            constraint=models.UniqueConstraint(
                fields=("person", "kind"), name="notice_chosen_once_per_person_and_kind"
            ),
        ),
        migrations.AddIndex(
            model_name="webhooktry",
            index=models.Index(
                condition=models.Q(("gave_up_at__isnull", True), ("sent_at__isnull", True)),
                fields=["try_at"],
                name="webhook_tries_by_next_try",
            ),
        ),
        migrations.AddConstraint(
            model_name="webhooktry",
            constraint=models.UniqueConstraint(fields=("webhook", "event"), name="event_is_sent_once_per_webhook"),
        ),
        migrations.AddConstraint(
            model_name="webhooktry",
            constraint=models.CheckConstraint(
                condition=models.Q(("sent_at__isnull", True), ("gave_up_at__isnull", True), _connector="OR"),
                name="webhook_try_sent_is_not_given_up",
            ),
        ),
        *(says_when(table) for table in TABLES),
    ]
