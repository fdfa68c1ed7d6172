"""A schedule file before it is taken: where it stands, what is asked, and what is wrong in it."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from openings.models import ScheduleDraft, SenderLayout
from openings.schedules.words import MEANING_GROUPS, MEANING_NAMES
from tests.factories import JobFactory
from tests.pages.html import html_of
from tests.pages.schedules import GOOD, WRONG, address_of, column, make_draft, make_outcome, send

State = ScheduleDraft.State
NO_UNIT = 'Tag,Width,Height,Detail\nW1,915,1830,"flange over, wrap before"\n'
SIZE = {"meaning-B": "unit_width_in", "meaning-C": "unit_height_in", "meaning-A": "mark", "meaning-D": "detail"}


def shown(client, draft, **asked) -> str:
    return html_of(client.get(address_of(draft), asked))


def sent(client, text: str, **more) -> ScheduleDraft:
    """Return the draft that a real file becomes."""
    send(client, JobFactory(), text, **more)
    return ScheduleDraft.objects.get()


def settle(client, draft, **chosen):
    return client.post(address_of(draft), {"act": "settle", "detail": "", **chosen})


def cells(page: str, heading: str) -> str:
    """Return the line of the table of columns that has this heading."""
    return re.search(rf'<th scope="row">{heading}.*?</tr>', page, re.DOTALL)[0]


def test_every_meaning_has_a_name_and_stands_in_one_group():
    grouped = [meaning for meanings in MEANING_GROUPS.values() for meaning in meanings]
    assert sorted(grouped) == sorted(MEANING_NAMES)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("proposal", "said"),
    [
        (column("C", "RO W", "ro_width_in"), ["sure", "<code>36</code>, <code>24</code>", '"ro_width_in" selected']),
        (column("C", "Breite", "unit_width_in", confidence=0.88), ["nearly sure, 88%"]),
        (column("C", "W", "unit_width_in", confidence=0.6), ["not quite sure, 60%"]),
        (column("C", "Glazing", None, confidence=0.0), ['"not read" selected']),
    ],
    ids=["sure", "nearly sure", "not quite sure", "not read"],
)
def test_a_column_shows_its_heading_its_values_its_meaning_and_how_sure_that_is(scheduler, proposal, said):
    page = shown(scheduler, make_draft(outcome=make_outcome(proposal=[proposal])))
    for words in said:
        assert words in cells(page, proposal["heading"])


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("meaning", "field"),
    [("ro_width_in", "unit-C"), ("weight_lb", "unit-C"), ("ro_size", "order-C"), ("count_on_floor", "floor-C")],
)
def test_what_belongs_to_a_meaning_is_chosen_beside_it(scheduler, meaning, field):
    fields = {"unit-C", "order-C", "floor-C"}
    page = shown(scheduler, make_draft(outcome=make_outcome(proposal=[column("C", "Heading", meaning)])))
    assert f'name="{field}"' in page
    others = fields - {field} - ({"unit-C"} if meaning == "ro_size" else set())
    assert not [name for name in others if f'name="{name}"' in page]


@pytest.mark.django_db
def test_what_is_asked_stands_at_its_column_in_words_and_describes_its_fields(scheduler):
    # WCAG 2.2, success criteria 1.3.1 and 1.4.1: neither place nor color alone says what belongs together.
    draft = sent(scheduler, NO_UNIT)
    row = cells(shown(scheduler, draft), "Width")
    assert re.search(r'<div class="asked" id="asked-2"><p><b>Needs answer:</b> .*?too large for inches', row)
    assert 'aria-describedby="asked-2"' in row
    assert '<td data-label="How sure" class="sure">needs answer</td>' in row
    assert '<option value="" selected>– choose –</option>' in row


@pytest.mark.django_db
def test_an_answer_is_read_by_and_remembered_once_the_file_is_taken(scheduler):
    draft = sent(scheduler, NO_UNIT)
    response = settle(scheduler, draft, **SIZE, **{"unit-B": "mm", "unit-C": "mm"})
    assert (response.status_code, response["Location"]) == (303, f"{address_of(draft)}#answer")
    draft.refresh_from_db()
    assert draft.mapping["columns"]["B"] == {"meaning": "unit_width_in", "unit": "mm"}
    page = shown(scheduler, draft)
    assert "Every column is understood" in page
    assert '<td data-label="How sure" class="sure">answered</td>' in page
    assert '<option value="mm" selected>' in page
    scheduler.post(address_of(draft), {"act": "take", "sure": "yes"})
    assert SenderLayout.objects.get(job=draft.job).layout["columns"]["B"]["unit"] == "mm"


@pytest.mark.django_db
def test_what_is_not_answered_stays_asked(scheduler):
    draft = sent(scheduler, NO_UNIT)
    settle(scheduler, draft, **SIZE, **{"unit-B": "mm", "unit-C": ""})
    page = shown(scheduler, draft)
    assert "1 question about the columns" in page
    assert 'id="asked-3"' in page
    assert 'value="take"' not in page


@pytest.mark.django_db
def test_what_was_settled_can_be_forgotten(scheduler):
    draft = sent(scheduler, NO_UNIT)
    settle(scheduler, draft, **SIZE, **{"unit-B": "mm", "unit-C": "mm"})
    scheduler.post(address_of(draft), {"act": "anew", "sure": "yes"})
    draft.refresh_from_db()
    assert draft.mapping == {}
    assert "2 questions about the columns" in shown(scheduler, draft)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("chosen", "wrong"),
    [
        ({"meaning-B": "ro_height_in"}, "both say rough opening height"),
        ({"meaning-C": "not read"}, "no column says rough opening height"),
        ({"meaning-A": "not read"}, "Say which column is the mark"),
        ({"meaning-A": "the color"}, "Select a valid choice"),
    ],
    ids=["two columns for one side", "a side alone", "no mark", "no meaning"],
)
def test_a_choice_that_cannot_be_is_said_and_nothing_that_was_chosen_is_lost(scheduler, chosen, wrong):
    draft = sent(scheduler, "Mark,RO width,RO height,Notes\nW1,36,54,x\n", detail="flange over, wrap before")
    choices = {"meaning-A": "mark", "meaning-B": "ro_width_in", "meaning-C": "ro_height_in", "meaning-D": "floor"}
    response = settle(scheduler, draft, **choices | chosen)
    page = html_of(response)
    assert response.status_code == 400
    assert wrong in page
    assert '"floor" selected' in cells(page, "Notes")
    draft.refresh_from_db()
    assert draft.mapping == {}


TABLES = """Schedule A
Mark,Qty,RO Width,RO Height
W1,2,36,54

Schedule B
Mark,Qty,RO Width,RO Height
X1,3,36,54
"""


@pytest.mark.django_db
@pytest.mark.parametrize(("tables", "count"), [(["2"], 2), (["6"], 3), (["2", "6"], 5)])
def test_the_tables_to_read_are_chosen(scheduler, tables, count):
    draft = sent(scheduler, TABLES, detail="flange over, wrap before")
    page = shown(scheduler, draft)
    assert "“Schedule B”, rows 6 to 7" in page
    assert not re.findall(r'name="tables"[^>]*checked', page)
    assert settle(scheduler, draft).status_code == 400
    settle(scheduler, draft, tables=tables, detail="flange over, wrap before")
    assert f"This would add {count} openings" in shown(scheduler, draft)


@pytest.mark.django_db
def test_how_marks_are_meant_is_asked_and_settled(scheduler):
    question = {"field": "marks", "heading": "Mark", "detail": "W1-W4 may be one mark or four.", "choices": ["ranges"]}
    draft = make_draft(outcome=make_outcome(questions=[question]))
    page = shown(scheduler, draft)
    assert '<p class="asked" id="asked-marks"><b>Needs answer:</b> W1-W4 may be one mark or four.</p>' in page
    settle(scheduler, draft, marks="as written")
    draft.refresh_from_db()
    assert draft.mapping["marks"] == "as written"


@pytest.mark.django_db
def test_columns_of_two_tables_under_one_letter_are_settled_apart(scheduler):
    proposal = [column("A", "Mark", "mark"), column("A", "Unit W", "unit_width_in", table="9")]
    draft = make_draft(outcome=make_outcome(proposal=proposal, questions=[]))
    settle(scheduler, draft, **{"meaning-1:A": "mark", "meaning-9:A": "remarks"})
    draft.refresh_from_db()
    assert draft.mapping["columns"] == {"1:A": {"meaning": "mark"}, "9:A": {"meaning": "remarks"}}


@pytest.mark.django_db
def test_a_wrong_row_is_shown_with_what_stands_there_and_what_would_be_right(scheduler):
    draft = sent(scheduler, WRONG)
    page = shown(scheduler, draft)
    assert "2 rows are wrong" in page
    for row, value in ((2, "0"), (3, "no such detail")):
        assert re.search(
            rf"</span>{row}</th><td[^>]*>[^<]+</td><td[^>]*><mark>{value}</mark></td><td[^>]*>[^<]+<", page
        )
    assert 'value="take"' not in page
    assert scheduler.post(address_of(draft), {"act": "take", "sure": "yes"}).status_code == 303
    assert "must be settled first" not in page


@pytest.mark.django_db
def test_wrong_rows_go_by_pages_and_faults_of_one_row_stand_together(scheduler):
    faults = [
        {"field": field, "row": row, "value": "", "detail": "fill it in"}
        for row in range(2, 252)
        for field in ("Sheet A › Width", "Sheet A › Height")
    ]
    draft = make_draft(outcome=make_outcome(faults=faults))
    first, second = shown(scheduler, draft), shown(scheduler, draft, page=2)
    assert "250 rows are wrong" in first
    assert (first.count('scope="rowgroup" rowspan="2"'), second.count('scope="rowgroup" rowspan="2"')) == (200, 50)
    assert "<small>Sheet A</small>" in first
    assert 'href="?page=2#wrong"' in first


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("state", "doing", "said"),
    [
        (State.WAITING, "", "waiting to start · 0%"),
        (State.READING, "comparing 9,400 openings with the job", "comparing 9,400 openings with the job · 40%"),
        (State.TAKING, "writing", "writing · 40%"),
    ],
)
def test_what_is_under_way_says_how_far_it_is_and_goes_on_without_a_script(scheduler, state, doing, said):
    draft = make_draft(state=state, doing=doing, done_pct=40 if doing else 0)
    page = shown(scheduler, draft)
    assert said in page
    assert f'<progress max="100" value="{draft.done_pct}"' in page
    assert '<noscript><meta http-equiv="refresh" content="5"></noscript>' in page
    assert "<button" not in page.split("<main")[1]


@pytest.mark.django_db
def test_a_file_that_cannot_be_read_says_why_and_what_to_do(scheduler):
    draft = sent(scheduler, "%PDF-1.7 no schedule", name="windows.pdf")
    page = shown(scheduler, draft)
    assert draft.state == State.REFUSED
    assert "a PDF" in page
    assert "upload it again</a>. The job has not changed" in page


@pytest.mark.django_db
def test_a_file_whose_headings_say_nothing_is_read_by_the_letters_of_its_columns(scheduler):
    text = "Pos.,Stk.,B,H\nW1,2,915,1830\n"
    draft = sent(scheduler, text, detail="flange over, wrap before")
    page = shown(scheduler, draft)
    assert "Say which column is which" in page
    letters = {"mark": "A", "quantity": "b", "ro_width_in": "C", "ro_height_in": "D", "unit": "mm"}
    refused = scheduler.post(address_of(draft), {"act": "place", **letters, "quantity": "4"})
    assert refused.status_code == 400
    assert "give the letter of a column, such as B" in html_of(refused)
    scheduler.post(address_of(draft), {"act": "place", **letters})
    page = shown(scheduler, draft)
    assert "This would add 2 openings" in page
    assert "3&#x27; 0 1/32&quot; × 6&#x27; 0 1/16&quot;" in page  # 915 by 1830 mm: 36.02 by 72.05 in


@pytest.mark.django_db
def test_a_file_is_discarded(scheduler):
    draft = sent(scheduler, GOOD)
    response = scheduler.post(address_of(draft), {"act": "discard", "sure": "yes"}, follow=True)
    assert response.redirect_chain == [(f"{reverse('schedule-page', args=[draft.job_id])}#answer", 303)]
    assert "windows.csv is discarded" in html_of(response)
    assert not ScheduleDraft.objects.exists()


@pytest.mark.django_db
@pytest.mark.parametrize("act", [None, "settle", "place", "again", "anew", "take", "discard"])
def test_a_draft_is_found_under_its_own_job_alone(scheduler, act):
    draft = make_draft(outcome=make_outcome())
    address = reverse("schedule-draft-page", args=[JobFactory().pk, draft.pk])
    response = scheduler.post(address, {"act": act}) if act else scheduler.get(address)
    assert response.status_code == 404
    assert "discarded" in html_of(response)
    assert ScheduleDraft.objects.filter(pk=draft.pk, state=State.READ).exists()


@pytest.mark.django_db
def test_who_is_not_of_the_office_sees_it_and_changes_nothing(warehouse):
    page = shown(warehouse, make_draft(outcome=make_outcome()))
    assert '<fieldset class="bare" disabled>' in page
    assert "<button" not in page.split("<main")[1]


@pytest.mark.django_db
@pytest.mark.parametrize("count", [1, 30])
def test_the_page_takes_as_many_queries_however_much_is_in_the_file(scheduler, django_assert_num_queries, count):
    faults = [{"field": "Width", "row": row, "value": "", "detail": "fill it in"} for row in range(count)]
    proposal = [column(chr(65 + number % 26), f"H{number}", "remarks") for number in range(count)]
    draft = make_draft(outcome=make_outcome(faults=faults, proposal=proposal))
    # Session, person; the draft, the details of its job.
    with django_assert_num_queries(4):
        shown(scheduler, draft)
