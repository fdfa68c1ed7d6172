"""Every route: the API under /api/v1/, the pages, the health of the service."""

from django.contrib import admin
from django.contrib.auth.views import LogoutView
from django.urls import include, path

import jobs.urls
import materials.urls
import openings.urls
from config import docs, health, pages

api = [*jobs.urls.urlpatterns, *openings.urls.urlpatterns, *materials.urls.urlpatterns]

admin.site.site_header = admin.site.site_title = "Weatherlap administration"
admin.site.index_title = "Records"

urlpatterns = [
    path("", pages.home, name="home"),
    path("first-steps/", pages.steps, name="first-steps-page"),
    path("office/", pages.office, name="office-page"),
    path("", include(jobs.urls.pages)),
    path("", include(openings.urls.pages)),
    path("", include(materials.urls.pages)),
    path("login/", pages.SignIn.as_view(), name="login"),
    path("logout/", LogoutView.as_view(), name="logout"),
    path("api/v1/", include(api)),
    path("api/schema/", docs.Document.as_view(), name="schema"),
    path("api/docs/", docs.DocumentPage.as_view(url_name="schema"), name="docs"),
    path("health/live", health.live),
    path("health/ready", health.ready),
    path("metrics", health.metrics),
    path("admin/", admin.site.urls),
]

handler400 = "config.errors.bad_request"
handler403 = "config.errors.not_allowed"
handler404 = "config.errors.not_found"
handler500 = "config.errors.our_fault"
