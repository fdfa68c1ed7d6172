"""Settings. What differs by machine comes from the environment and stands in .env.example."""

from __future__ import annotations

import os
from datetime import timedelta
from pathlib import Path

from config import environment

BASE_DIR = Path(__file__).resolve().parent.parent

# Who we are

SECRET_KEY = environment.required("SECRET_KEY")
DEBUG = environment.flag("DEBUG")
# The machine itself always may ask: health checks do.
ALLOWED_HOSTS = [*environment.words("ALLOWED_HOSTS"), "localhost", "127.0.0.1", "[::1]"]
CSRF_TRUSTED_ORIGINS = environment.words("CSRF_TRUSTED_ORIGINS")

INSTALLED_APPS = [
    "config",
    "materials",
    "openings",
    "jobs",
    "rest_framework",
    "django_filters",
    "drf_spectacular",
    "drf_spectacular_sidecar",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.postgres",
    "django.contrib.staticfiles",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "config.middleware.Compressed",
    "config.middleware.private_and_ours_alone",
    "config.middleware.few_at_once",
    "config.middleware.slash_optional",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "config.pages.Refusals",
]
ROOT_URLCONF = "config.urls"
WSGI_APPLICATION = "config.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    },
]

# Database

PROGRAM = os.environ.get("WEATHERLAP_PROGRAM", "")
"""Which of our programs this is, `web` or `worker`; what these ask of the database is bounded, commands are not."""
DATABASES = {"default": environment.database(environment.required("DATABASE_URL"))}
_OPTIONS = DATABASES["default"]["OPTIONS"]
_OPTIONS.setdefault("connect_timeout", "5")  # a database that is away must not hold up whoever asks for it
if _LIMITS := environment.limits(PROGRAM, options=_OPTIONS.get("options", "")):
    _OPTIONS["options"] = _LIMITS
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

# People

AUTH_USER_MODEL = "jobs.Person"
AUTHENTICATION_BACKENDS = ["jobs.authentication.CountedPasswords"]
PASSWORD_HASHERS = ["jobs.hashing.TakesTurns"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
] + [{"NAME": "jobs.services.password.EndsTokens"}]
LOGIN_URL = "/login/"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = "/login/"

# Transport: strict unless the machine says that it has no TLS in front

PLAIN_HTTP = environment.flag("PLAIN_HTTP")
SECURE_SSL_REDIRECT = not PLAIN_HTTP
SECURE_REDIRECT_EXEMPT = [r"^health/"]
SECURE_HSTS_SECONDS = 0 if PLAIN_HTTP else int(timedelta(days=365).total_seconds())
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = not PLAIN_HTTP
BEHIND_PROXY = environment.flag("BEHIND_TLS_PROXY")
"""Whether what a proxy in front says of the caller is true: by which scheme and from where they came."""
if BEHIND_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

CSRF_FAILURE_VIEW = "config.pages.expired_form"

# Out of the office: mail and webhooks

_MAIL = environment.mail(os.environ.get("MAIL_URL", ""))
MAIL_IS_SET_UP = "EMAIL_HOST" in _MAIL
EMAIL_BACKEND = _MAIL["EMAIL_BACKEND"]
EMAIL_HOST, EMAIL_PORT = _MAIL.get("EMAIL_HOST", ""), _MAIL.get("EMAIL_PORT", 25)
EMAIL_HOST_USER, EMAIL_HOST_PASSWORD = _MAIL.get("EMAIL_HOST_USER", ""), _MAIL.get("EMAIL_HOST_PASSWORD", "")
EMAIL_USE_SSL, EMAIL_USE_TLS = _MAIL.get("EMAIL_USE_SSL", False), _MAIL.get("EMAIL_USE_TLS", False)
EMAIL_TIMEOUT = 10
DEFAULT_FROM_EMAIL = os.environ.get("MAIL_FROM") or "weatherlap@localhost"
PUBLIC_ADDRESS = os.environ.get("PUBLIC_ADDRESS", "").rstrip("/")
WEBHOOKS_MAY_BE_PRIVATE = environment.flag("WEBHOOKS_MAY_BE_PRIVATE")

# Uploads

UPLOAD_LIMIT_BYTES = 60 * 2**20
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 2**20
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000  # the difference of a schedule has a box for each opening it shows
FILE_UPLOAD_HANDLERS = [
    "config.uploads.SizeGuard",
    "django.core.files.uploadhandler.MemoryFileUploadHandler",
    "django.core.files.uploadhandler.TemporaryFileUploadHandler",
]

# Language, time, static files

LANGUAGE_CODE = "en-us"
LANGUAGES = [("en", "English"), ("es", "Español")]  # of the field card; every other page is in English
LANGUAGE_COOKIE_AGE = 31_536_000
TIME_ZONE = "UTC"
USE_TZ = True
STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True  # served from where they lie: no copy has to be collected first

# API

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "jobs.authentication.TokenAuthentication",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_RENDERER_CLASSES": ["config.json_io.NumberRenderer"],
    "DEFAULT_PARSER_CLASSES": ["config.json_io.CleanParser"],
    "DEFAULT_CONTENT_NEGOTIATION_CLASS": "config.json_io.UnitsNegotiation",
    "COERCE_DECIMAL_TO_STRING": False,
    "DEFAULT_FILTER_BACKENDS": ["config.lists.Filters", "config.lists.Ordering"],
    "DEFAULT_PAGINATION_CLASS": "config.lists.Pages",
    "DEFAULT_SCHEMA_CLASS": "config.operations.Operation",
    "EXCEPTION_HANDLER": "config.errors.problem",
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Weatherlap",
    "DESCRIPTION": (
        "Openings, draws, crew days, pull sheets and install records of window jobs. A name that is not described, in "
        "a body or in a query, is refused with the nearest that is. What is only read may be sent back; it changes "
        "nothing."
    ),
    "VERSION": "1",
    "SCHEMA_PATH_PREFIX": "/api/v1",
    "SERVE_INCLUDE_SCHEMA": False,
    "COMPONENT_SPLIT_REQUEST": True,
    "GET_LIB_DOC_EXCLUDES": "config.operations.undescribed",
    "POSTPROCESSING_HOOKS": ["drf_spectacular.hooks.postprocess_schema_enums", "config.metric_document.describe_both"],
    "ENUM_NAME_OVERRIDES": {
        "BeadShapeEnum": [(shape, shape) for shape in ("round", "rectangle", "fillet")],
        "EdgeEnum": [(edge, edge) for edge in ("free", "fastened", "bonded")],
        "FlawConditionEnum": [(condition, condition) for condition in ("damaged", "wrong")],
        "HoldKindEnum": "openings.models.Hold.Kind",
        "HowToldEnum": [(how, how) for how in ("at once", "once a day", "never")],
        "PersonRoleEnum": "jobs.models.Person.Role",
        "PullSheetStateEnum": "materials.models.PullSheet.State",
        "ScheduleDraftStateEnum": "openings.models.ScheduleDraft.State",
        "TradeBeforeKindEnum": [(kind, kind) for kind in ("trade", "permit", "lead paint")],
        "UnitConditionEnum": [(condition, condition) for condition in ("whole", "damaged", "wrong")],
    },
    "SWAGGER_UI_DIST": "SIDECAR",  # from this service, not from elsewhere
    "SWAGGER_UI_FAVICON_HREF": "SIDECAR",
}

# Tasks

REDIS_URL = environment.required("REDIS_URL")
CELERY_BROKER_URL = environment.broker(REDIS_URL)
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_BROKER_TRANSPORT_OPTIONS = {
    "visibility_timeout": 600,
    # A web request whose broker is down must not wait for it.
    "socket_connect_timeout": 2,
    "max_retries": 1,
    "interval_start": 0,
    "interval_step": 0.2,
    "interval_max": 0.2,
}
CELERY_TASK_PUBLISH_RETRY = False
# A sheet is written in a second, a file may take minutes: each has a queue and workers of its own.
CELERY_TASK_DEFAULT_QUEUE = "sheets"
CELERY_TASK_ROUTES = {f"openings.tasks.{name}": {"queue": "files"} for name in ("read_schedule", "take_schedule")}
# Servers elsewhere let us wait.
CELERY_TASK_ROUTES |= {f"jobs.tasks.{name}": {"queue": "outside"} for name in ("tell_people", "tell_programs")}
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_TASK_TIME_LIMIT = 300
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_WORKER_HIJACK_ROOT_LOGGER = False
CELERY_TIMEZONE = "UTC"
CELERY_BEAT_SCHEDULE = {
    "send due pull sheets": {
        "task": "materials.tasks.send_due_pull_sheets",
        "schedule": timedelta(minutes=1),
        "options": {"expires": 55},
    },
    "forget old sign-ins": {
        "task": "jobs.tasks.forget_old_sign_ins",
        "schedule": timedelta(hours=1),
        "options": {"expires": 3000},
    },
    "forget old answers": {
        "task": "jobs.tasks.forget_old_answers",
        "schedule": timedelta(hours=1),
        "options": {"expires": 3000},
    },
    "tell what waits": {
        "task": "openings.tasks.tell_what_waits",
        "schedule": timedelta(minutes=5),
        "options": {"expires": 240},
    },
    "tell of sheets": {
        "task": "materials.tasks.tell_what_waits",
        "schedule": timedelta(minutes=5),
        "options": {"expires": 240},
    },
    "tell people": {
        "task": "jobs.tasks.tell_people",
        "schedule": timedelta(minutes=1),
        "options": {"expires": 55},
    },
    "tell programs": {
        "task": "jobs.tasks.tell_programs",
        "schedule": timedelta(minutes=1),
        "options": {"expires": 55},
    },
    "forget old events": {
        "task": "jobs.tasks.forget_old_events",
        "schedule": timedelta(hours=1),
        "options": {"expires": 3000},
    },
    "go on with schedules": {
        "task": "openings.tasks.go_on_with_schedules",
        "schedule": timedelta(minutes=1),
        "options": {"expires": 55},
    },
}

# Logs go to stderr

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stderr"], "level": os.environ.get("LOG_LEVEL") or "INFO"},
}
