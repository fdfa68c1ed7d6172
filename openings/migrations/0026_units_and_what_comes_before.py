"""The unit of an opening is a thing with facts, and what else an opening waits for stands in rows."""

import django.contrib.postgres.fields
import django.db.models.deletion
import django.db.models.functions.datetime
from django.conf import settings
from django.db import migrations, models

TABLES = ("openings_unit", "openings_delivery", "openings_readyrules", "openings_tradebefore")


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
        ("openings", "0025_what_is_undone_together"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Delivery",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("supplier", models.CharField(help_text="Who brings it.", max_length=120)),
                (
                    "reference",
                    models.CharField(blank=True, help_text="The supplier's number, as on their papers.", max_length=60),
                ),
                ("expected_on", models.DateField(blank=True, help_text="The day it was promised for.", null=True)),
                ("received_at", models.DateTimeField(blank=True, editable=False, null=True)),
                ("note", models.CharField(blank=True, max_length=300)),
                (
                    "updated_at",
                    models.DateTimeField(
                        db_default=django.db.models.functions.datetime.Now(),
                        db_index=True,
                        editable=False,
                        help_text="When it was last changed, as the database saw it.",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "deliveries",
                "ordering": ["expected_on", "id"],
            },
        ),
        migrations.CreateModel(
            name="ReadyRules",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "units",
                    models.BooleanField(default=False, help_text="An opening without an ordered unit is not ready."),
                ),
                (
                    "measured",
                    models.BooleanField(default=False, help_text="An opening that nobody measured is not ready."),
                ),
                (
                    "lead_paint",
                    models.BooleanField(
                        default=False,
                        help_text="In a building from before 1978 nothing is ready until lead-safe work is prepared.",
                    ),
                ),
                (
                    "weather",
                    models.BooleanField(
                        default=False, help_text="Nothing is assigned to a day of forecast wind or rain."
                    ),
                ),
                (
                    "floor_order",
                    django.contrib.postgres.fields.ArrayField(
                        base_field=models.CharField(max_length=200),
                        blank=True,
                        default=list,
                        help_text="Floors in the order in which they are set; blank where the order does not matter.",
                        size=60,
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
            ],
            options={
                "verbose_name": "ready rules",
                "verbose_name_plural": "ready rules",
                "ordering": ["id"],
            },
        ),
        migrations.CreateModel(
            name="TradeBefore",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[("trade", "trade"), ("permit", "permit"), ("lead paint", "lead paint")],
                        default="trade",
                        max_length=20,
                    ),
                ),
                (
                    "name",
                    models.CharField(
                        help_text="What is to be done, such as framing inspection or WRB.", max_length=120
                    ),
                ),
                (
                    "floor",
                    models.CharField(blank=True, help_text="Blank where it concerns the whole job.", max_length=200),
                ),
                ("who", models.CharField(blank=True, help_text="Who does it or grants it.", max_length=120)),
                ("expected_on", models.DateField(blank=True, help_text="When it is to be done.", null=True)),
                ("done_on", models.DateField(blank=True, help_text="When it was done.", null=True)),
                (
                    "updated_at",
                    models.DateTimeField(
                        db_default=django.db.models.functions.datetime.Now(),
                        db_index=True,
                        editable=False,
                        help_text="When it was last changed, as the database saw it.",
                    ),
                ),
            ],
            options={
                "verbose_name": "trade before",
                "verbose_name_plural": "trades before",
                "ordering": ["job", "floor", "id"],
            },
        ),
        migrations.CreateModel(
            name="Unit",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("ordered_on", models.DateField()),
                (
                    "order_ref",
                    models.CharField(
                        blank=True, help_text="Number of the order, as the supplier has it.", max_length=60
                    ),
                ),
                (
                    "expected_on",
                    models.DateField(
                        blank=True,
                        help_text="When it is to come, where no delivery is named that brings it.",
                        null=True,
                    ),
                ),
                ("received_at", models.DateTimeField(blank=True, editable=False, null=True)),
                (
                    "condition",
                    models.CharField(
                        blank=True,
                        choices=[("whole", "whole"), ("damaged", "damaged"), ("wrong", "wrong")],
                        help_text="As it was received, or found since.",
                        max_length=20,
                    ),
                ),
                (
                    "stands_at",
                    models.CharField(
                        blank=True, help_text="Where it stands, such as garage, north wall.", max_length=120
                    ),
                ),
                ("note", models.CharField(blank=True, help_text="What is damaged, or what is wrong.", max_length=300)),
                ("replaced_at", models.DateTimeField(blank=True, editable=False, null=True)),
                (
                    "updated_at",
                    models.DateTimeField(
                        db_default=django.db.models.functions.datetime.Now(),
                        db_index=True,
                        editable=False,
                        help_text="When it was last changed, as the database saw it.",
                    ),
                ),
            ],
            options={
                "ordering": ["opening__job", "opening__position", "id"],
            },
        ),
        migrations.RemoveConstraint(
            model_name="hold",
            name="hold_release_says_who_and_when",
        ),
        migrations.AddField(
            model_name="hold",
            name="expected_on",
            field=models.DateField(blank=True, help_text="The day on which it is expected to be gone.", null=True),
        ),
        migrations.AddField(
            model_name="hold",
            name="rule",
            field=models.CharField(
                blank=True,
                choices=[
                    ("measured", "measured"),
                    ("unit", "unit"),
                    ("trade", "trade"),
                    ("permit", "permit"),
                    ("lead paint", "lead paint"),
                ],
                default="",
                editable=False,
                help_text="The rule that found it and releases it; blank of a person's.",
                max_length=20,
            ),
        ),
        migrations.AlterField(
            model_name="hold",
            name="kind",
            field=models.CharField(
                choices=[
                    ("not measured", "Not Measured"),
                    ("out of tolerance", "Out Of Tolerance"),
                    ("unit not on site", "Unit Not On Site"),
                    ("material short", "Material Short"),
                    ("materials not compatible", "Materials Not Compatible"),
                    ("weather", "Weather"),
                    ("access", "Access"),
                    ("schedule changed", "Schedule Changed"),
                    ("other trade", "Other Trade"),
                    ("permit", "Permit"),
                    ("lead paint", "Lead Paint"),
                    ("other", "Other"),
                ],
                max_length=30,
            ),
        ),
        migrations.AddConstraint(
            model_name="hold",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("released_at__isnull", True), ("released_by__isnull", True)),
                    models.Q(
                        ("released_at__isnull", False),
                        models.Q(
                            ("released_by__isnull", False), models.Q(("rule", ""), _negated=True), _connector="OR"
                        ),
                    ),
                    _connector="OR",
                ),
                name="hold_release_says_who_and_when",
            ),
        ),
        migrations.AddField(
            model_name="delivery",
            name="job",
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="+", to="jobs.job"),
        ),
        migrations.AddField(
            model_name="delivery",
            name="received_by",
            field=models.ForeignKey(
                blank=True,
                editable=False,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="readyrules",
            name="job",
            field=models.OneToOneField(on_delete=django.db.models.deletion.PROTECT, related_name="+", to="jobs.job"),
        ),
        migrations.AddField(
            model_name="tradebefore",
            name="job",
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="+", to="jobs.job"),
        ),
        migrations.AddField(
            model_name="unit",
            name="delivery",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="units",
                to="openings.delivery",
            ),
        ),
        migrations.AddField(
            model_name="unit",
            name="opening",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="units", to="openings.opening"
            ),
        ),
        migrations.AddField(
            model_name="unit",
            name="received_by",
            field=models.ForeignKey(
                blank=True,
                editable=False,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddConstraint(
            model_name="delivery",
            constraint=models.CheckConstraint(
                condition=models.Q(("supplier", ""), _negated=True), name="delivery_names_its_supplier"
            ),
        ),
        migrations.AddConstraint(
            model_name="delivery",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("received_at__isnull", True), ("received_by__isnull", True)),
                    models.Q(("received_at__isnull", False), ("received_by__isnull", False)),
                    _connector="OR",
                ),
                name="delivery_received_says_who_and_when",
            ),
        ),
        migrations.AddConstraint(
            model_name="tradebefore",
            constraint=models.CheckConstraint(
                condition=models.Q(("name", ""), _negated=True), name="trade_before_has_a_name"
            ),
        ),
        migrations.AddConstraint(
            model_name="tradebefore",
            constraint=models.UniqueConstraint(
                fields=("job", "floor", "name"),
                name="trade_before_stands_once_per_floor",
                violation_error_code="unique",
                violation_error_message="This is entered already for the floor.",
            ),
        ),
        migrations.AddConstraint(
            model_name="unit",
            constraint=models.UniqueConstraint(
                condition=models.Q(("replaced_at__isnull", True)),
                fields=("opening",),
                name="one_current_unit_per_opening",
                violation_error_code="unique",
                violation_error_message="A unit is ordered for this opening already.",
            ),
        ),
        migrations.AddConstraint(
            model_name="unit",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("condition", ""), ("received_at__isnull", True), ("received_by__isnull", True)),
                    models.Q(
                        ("received_at__isnull", False),
                        ("received_by__isnull", False),
                        models.Q(("condition", ""), _negated=True),
                    ),
                    _connector="OR",
                ),
                name="unit_received_says_who_when_and_how_it_is",
                violation_error_message="Say how a unit is once it is received, and not before.",
            ),
        ),
        migrations.AddConstraint(
            model_name="unit",
            constraint=models.CheckConstraint(
                condition=models.Q(("delivery__isnull", True), ("expected_on__isnull", True), _connector="OR"),
                name="unit_comes_on_the_day_of_its_delivery",
                violation_error_message="A unit comes on the day of its delivery: leave its own day blank.",
            ),
        ),
        migrations.AddConstraint(
            model_name="unit",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("condition__in", ["", "whole"]), models.Q(("note", ""), _negated=True), _connector="OR"
                ),
                name="unit_that_is_not_whole_says_why",
                violation_error_message="Write in the note what is damaged or wrong.",
            ),
        ),
        *(says_when(table) for table in TABLES),
    ]
