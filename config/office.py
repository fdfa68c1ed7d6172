"""Everything that the office keeps, as its index lists it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Entry:
    """One page of the index.

    Args:
        page: name of its address, which takes nothing.
        title: what it is called.
        line: what is done there.
    """

    page: str
    title: str
    line: str


@dataclass(frozen=True, slots=True)
class Group:
    """Pages that belong together."""

    title: str
    entries: tuple[Entry, ...]


INDEX = (
    Group(
        "The firm",
        (
            Entry("company-page", "Company", "The firm, its yard, and what new jobs and crews begin with."),
            Entry(
                "calendar-page",
                "Calendar",
                "Public holidays to confirm, and days on which the company works otherwise.",
            ),
            Entry("people-page", "People", "Who signs in, with role and crew; invite somebody, or end an account."),
            Entry("sign-ins-page", "Sign-ins", "Who signed in and who tried to; unlock a name. For owners."),
            Entry("account-page", "Your account", "Your password and tokens; sign out everywhere."),
            Entry("notices-page", "Your notices", "What you were told, and what you are told at once, daily or not."),
            Entry(
                "integrations-page",
                "Calendars and webhooks",
                "Links by which a calendar reads the days of a crew or job; programs that are called.",
            ),
            Entry("import-page", "Import jobs or crews", "From a spreadsheet, checked and shown before it is taken."),
            Entry("first-steps-page", "First steps", "What a firm that starts enters, what is done and what is next."),
        ),
    ),
    Group(
        "Jobs",
        (
            Entry("jobs-page", "Jobs", "Every job with its openings by state, its window schedule and its takeoff."),
            Entry("job-new-page", "Add a job", "Address, contact, gate note, dates promised and cut-off of a new job."),
            Entry("forecasts-page", "Forecasts", "The weather expected on each site, held against the limits."),
            Entry(
                "weather-limits-page", "Weather limits", "From what wind and rain on no window is set, and who says so."
            ),
            Entry(
                "deliveries-page",
                "Deliveries",
                "What suppliers bring to the jobs: when it is expected, what is late, and receiving it.",
            ),
            Entry("drives-page", "Drives between sites", "Minutes from site to site, entered or worked out."),
            Entry("labor-rates-page", "Labor rates", "What each task takes in labor hours, with its source."),
            Entry("progress-page", "Progress", "What is set, what is left, and when each job ends."),
        ),
    ),
    Group(
        "Crews",
        (
            Entry("crews-page", "Crews", "Every crew with its truck and people; days off; add or retire a crew."),
            Entry("crew-board-page", "Crew board", "Who sets what on which day; days off and short days."),
        ),
    ),
    Group(
        "Products and stock",
        (
            Entry("products-page", "Products", "What you buy and how it is packed: add, edit, retire, import."),
            Entry("standards-page", "Products by part", "Which product serves which part, and why another cannot."),
            Entry("compatibility-page", "What may touch what", "Makers’ letters and tests on products that touch."),
            Entry("stock-page", "Stock", "Count what is in the warehouse and on each truck, by product and lot."),
            Entry("places-page", "Places", "Warehouses, trucks, suppliers and scrap."),
            Entry("staging-page", "Staging", "Pull sheets by day: what to set out, load and bring back."),
            Entry("remnants-page", "Remnants", "What is left of rolls, where it is and which crew counts on it."),
        ),
    ),
)
