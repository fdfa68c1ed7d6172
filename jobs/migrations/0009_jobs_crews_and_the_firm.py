"""The firm itself with its days, and what the office keeps of jobs and crews."""

import datetime
from decimal import Decimal

import django.contrib.postgres.fields
import django.core.validators
import django.db.models.deletion
import django.db.models.functions.datetime
from django.conf import settings
from django.db import migrations, models

import jobs.models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0008_events_notices_webhooks_and_calendars"),
    ]

    operations = [
        migrations.CreateModel(
            name="Company",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=120)),
                (
                    "us_state",
                    models.CharField(
                        choices=[
                            ("AL", "Alabama"),
                            ("AK", "Alaska"),
                            ("AZ", "Arizona"),
                            ("AR", "Arkansas"),
                            ("CA", "California"),
                            ("CO", "Colorado"),
                            ("CT", "Connecticut"),
                            ("DE", "Delaware"),
                            ("DC", "District of Columbia"),
                            ("FL", "Florida"),
                            ("GA", "Georgia"),
                            ("HI", "Hawaii"),
                            ("ID", "Idaho"),
                            ("IL", "Illinois"),
                            ("IN", "Indiana"),
                            ("IA", "Iowa"),
                            ("KS", "Kansas"),
                            ("KY", "Kentucky"),
                            ("LA", "Louisiana"),
                            ("ME", "Maine"),
                            ("MD", "Maryland"),
                            ("MA", "Massachusetts"),
                            ("MI", "Michigan"),
                            ("MN", "Minnesota"),
                            ("MS", "Mississippi"),
                            ("MO", "Missouri"),
                            ("MT", "Montana"),
                            ("NE", "Nebraska"),
                            ("NV", "Nevada"),
                            ("NH", "New Hampshire"),
                            ("NJ", "New Jersey"),
                            ("NM", "New Mexico"),
                            ("NY", "New York"),
                            ("NC", "North Carolina"),
                            ("ND", "North Dakota"),
                            ("OH", "Ohio"),
                            ("OK", "Oklahoma"),
                            ("OR", "Oregon"),
                            ("PA", "Pennsylvania"),
                            ("PR", "Puerto Rico"),
                            ("RI", "Rhode Island"),
                            ("SC", "South Carolina"),
                            ("SD", "South Dakota"),
                            ("TN", "Tennessee"),
                            ("TX", "Texas"),
                            ("UT", "Utah"),
                            ("VT", "Vermont"),
                            ("VA", "Virginia"),
                            ("VI", "Virgin Islands"),
                            ("WA", "Washington"),
                            ("WV", "West Virginia"),
                            ("WI", "Wisconsin"),
                            ("WY", "Wyoming"),
                            ("GU", "Guam"),
                        ],
                        help_text="Its public holidays are those of this state.",
                        max_length=2,
                    ),
                ),
                (
                    "time_zone",
                    models.CharField(default="America/Denver", max_length=60, validators=[jobs.models.check_time_zone]),
                ),
                (
                    "default_cutoff",
                    models.TimeField(
                        default=datetime.time(14, 0),
                        help_text="The cut-off of a new job, at which its pull sheets are made.",
                    ),
                ),
                (
                    "default_shift_h",
                    models.DecimalField(
                        decimal_places=2,
                        default=Decimal("8"),
                        help_text="Hours one person of a new crew works on a working day.",
                        max_digits=4,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.25")),
                            django.core.validators.MaxValueValidator(Decimal("24")),
                        ],
                    ),
                ),
                (
                    "yard_address",
                    models.TextField(
                        blank=True,
                        max_length=300,
                        validators=[django.core.validators.ProhibitNullCharactersValidator()],
                    ),
                ),
                (
                    "yard_latitude",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Degrees, north is positive, such as 39.7392.",
                        max_digits=9,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("-90")),
                            django.core.validators.MaxValueValidator(Decimal("90")),
                        ],
                    ),
                ),
                (
                    "yard_longitude",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        help_text="Degrees, west is negative in the US, such as -104.9903.",
                        max_digits=9,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("-180")),
                            django.core.validators.MaxValueValidator(Decimal("180")),
                        ],
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "company",
            },
        ),
        migrations.CreateModel(
            name="CompanyDay",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("on", models.DateField(unique=True)),
                ("name", models.CharField(help_text="Why, such as Thanksgiving Day.", max_length=80)),
                (
                    "shift_h",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="Hours one person works at most that day; 0 is a day off, nothing is a day worked as usual.",
                        max_digits=4,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("24")),
                        ],
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
                "ordering": ["on"],
            },
        ),
        migrations.AddField(
            model_name="crew",
            name="payload_lb",
            field=models.DecimalField(
                blank=True,
                decimal_places=2,
                help_text="What the truck may carry, from the label on its door frame.",
                max_digits=8,
                null=True,
                validators=[
                    django.core.validators.MinValueValidator(1),
                    django.core.validators.MaxValueValidator(80000),
                ],
            ),
        ),
        migrations.AddField(
            model_name="crew",
            name="retired_at",
            field=models.DateTimeField(
                blank=True, editable=False, help_text="When it was retired: it takes no more work.", null=True
            ),
        ),
        migrations.AddField(
            model_name="crew",
            name="skills",
            field=django.contrib.postgres.fields.ArrayField(
                base_field=models.CharField(max_length=40),
                blank=True,
                default=list,
                help_text="What the crew is trained for, such as lead-safe work or boom lift.",
                size=20,
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="archived_at",
            field=models.DateTimeField(
                blank=True, editable=False, help_text="When it was archived: lists leave it out.", null=True
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="closed_at",
            field=models.DateTimeField(
                blank=True,
                editable=False,
                help_text="When the job was closed: nothing of it is assigned any more.",
                null=True,
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="contact_name",
            field=models.CharField(blank=True, help_text="Whom to ask for on the site.", max_length=80),
        ),
        migrations.AddField(
            model_name="job",
            name="contact_phone",
            field=models.CharField(blank=True, max_length=40),
        ),
        migrations.AddField(
            model_name="job",
            name="gate_note",
            field=models.CharField(blank=True, help_text="How a crew gets in: gate, code, parking.", max_length=300),
        ),
        migrations.AddField(
            model_name="job",
            name="latitude",
            field=models.DecimalField(
                blank=True,
                decimal_places=6,
                help_text="Degrees, north is positive, such as 39.7392.",
                max_digits=9,
                null=True,
                validators=[
                    django.core.validators.MinValueValidator(Decimal("-90")),
                    django.core.validators.MaxValueValidator(Decimal("90")),
                ],
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="longitude",
            field=models.DecimalField(
                blank=True,
                decimal_places=6,
                help_text="Degrees, west is negative in the US, such as -104.9903.",
                max_digits=9,
                null=True,
                validators=[
                    django.core.validators.MinValueValidator(Decimal("-180")),
                    django.core.validators.MaxValueValidator(Decimal("180")),
                ],
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="promised_on",
            field=models.DateField(blank=True, help_text="The day the customer was promised.", null=True),
        ),
        migrations.AddConstraint(
            model_name="crew",
            constraint=models.CheckConstraint(
                condition=models.Q(("payload_lb", None), ("payload_lb__gt", 0), _connector="OR"),
                name="crew_payload_is_positive",
            ),
        ),
        migrations.AddConstraint(
            model_name="job",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("promised_on", None),
                    ("starts_on", None),
                    ("promised_on__gte", models.F("starts_on")),
                    _connector="OR",
                ),
                name="job_is_not_promised_before_it_starts",
                violation_error_message="The day promised is before the job starts: give a later day promised, or an earlier start.",
            ),
        ),
        migrations.AddConstraint(
            model_name="job",
            constraint=models.CheckConstraint(
                condition=models.Q(("archived_at", None), ("closed_at__isnull", False), _connector="OR"),
                name="job_is_archived_only_once_closed",
            ),
        ),
        migrations.AddConstraint(
            model_name="job",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("latitude__isnull", True), ("longitude__isnull", True)),
                    models.Q(
                        ("latitude__isnull", False),
                        ("longitude__isnull", False),
                        ("latitude__gte", Decimal("-90")),
                        ("latitude__lte", Decimal("90")),
                        ("longitude__gte", Decimal("-180")),
                        ("longitude__lte", Decimal("180")),
                    ),
                    _connector="OR",
                ),
                name="job_is_on_earth",
                violation_error_message="Latitude and longitude go together: give both, or neither.",
            ),
        ),
        migrations.AddConstraint(
            model_name="company",
            constraint=models.CheckConstraint(condition=models.Q(("pk", 1)), name="company_stands_once"),
        ),
        migrations.AddConstraint(
            model_name="company",
            constraint=models.CheckConstraint(
                condition=models.Q(("default_shift_h__gt", 0), ("default_shift_h__lte", 24)),
                name="company_shift_fits_in_a_day",
            ),
        ),
        migrations.AddConstraint(
            model_name="company",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("yard_latitude__isnull", True), ("yard_longitude__isnull", True)),
                    models.Q(
                        ("yard_latitude__isnull", False),
                        ("yard_longitude__isnull", False),
                        ("yard_latitude__gte", Decimal("-90")),
                        ("yard_latitude__lte", Decimal("90")),
                        ("yard_longitude__gte", Decimal("-180")),
                        ("yard_longitude__lte", Decimal("180")),
                    ),
                    _connector="OR",
                ),
                name="company_yard_is_on_earth",
                violation_error_message="Latitude and longitude go together: give both, or neither.",
            ),
        ),
        migrations.AddField(
            model_name="companyday",
            name="confirmed_by",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
            ),
        ),
        migrations.AddConstraint(
            model_name="companyday",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("shift_h", None), models.Q(("shift_h__gte", 0), ("shift_h__lte", 24)), _connector="OR"
                ),
                name="company_day_fits_in_a_day",
            ),
        ),
        migrations.AddConstraint(
            model_name="companyday",
            constraint=models.CheckConstraint(
                condition=models.Q(("name", ""), _negated=True), name="company_day_says_why"
            ),
        ),
        migrations.RunSQL(
            """
            CREATE TRIGGER says_when_it_was_added BEFORE INSERT ON jobs_companyday
            FOR EACH ROW EXECUTE FUNCTION says_when_it_changed();
            CREATE TRIGGER says_when_it_changed BEFORE UPDATE ON jobs_companyday
            FOR EACH ROW WHEN (OLD.* IS DISTINCT FROM NEW.*) EXECUTE FUNCTION says_when_it_changed();
            """,
            "DROP TRIGGER says_when_it_was_added ON jobs_companyday; DROP TRIGGER says_when_it_changed ON jobs_companyday;",
        ),
    ]
