"""Answer an act on a page: done, refused, or asked about first; and where on the page that is said.

A template names its places by `{% answer … %}`; the form of an act says by `{% sent_from … %}` which of them it stands
at. An answer appears at the first of its places that the page has, else above everything, and has the focus: forms
and redirects lead to `#answer`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse

FRAGMENT = "answer"
"""The id of the newest answer of a page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked before an act that cannot be undone.

    Args:
        asks: what it will do, with every name and figure, as a question.
        follows: what comes of it and cannot be undone.
        yes: the words of the button that does it.
        no: the words of the button that leaves it.
    """

    asks: str
    follows: str
    yes: str
    no: str = "Leave it as it is"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One answer: `said`, `problem` (a document of RFC 9457) or `question`.

    Args:
        places: where it is said: the first that the page has.
        posted: what was sent with the act that asks, so that exactly that is done once it is confirmed.
    """

    places: Sequence[str]
    said: str = ""
    problem: Mapping[str, Any] | None = None
    question: Question | None = None
    posted: Sequence[tuple[str, str]] = ()


@dataclass(slots=True, kw_only=True)
class Outcome:
    """What comes of a request, for the page that answers it.

    Args:
        answer: what an act answers on the page that is shown again.
        problem: what was refused, as a document of RFC 9457.
        show_again: shows the page from which the act was sent.
    """

    answer: Answer | None = None
    problem: dict[str, Any] | None = None
    show_again: Callable[[], HttpResponse] | None = None


def outcome(request: HttpRequest) -> Outcome:
    """Return what has come of a request so far; templates read it as `request.outcome`."""
    found: Outcome = request.__dict__.setdefault("outcome", Outcome())
    return found


def say(request: HttpRequest, said: str, places: str = "") -> None:
    """Say something on the page that this request leads to, at the first of these places or where the form stood."""
    messages.success(request, said, extra_tags=f"{places} {_sent_from(request)}".strip())


def ask(request: HttpRequest, question: Question) -> None:
    """Ask something on the page that is shown again, where the form stands."""
    posted = [(name, text) for name, texts in request.POST.lists() for text in texts if name not in _NOT_SENT_AGAIN]
    outcome(request).answer = Answer(places=(_sent_from(request),), question=question, posted=posted)


def leave(request: HttpRequest) -> None:
    """Say on the page that is shown again that nothing was done."""
    outcome(request).answer = Answer(places=(_sent_from(request),), said="Nothing was done: nothing has changed.")


def answers(request: HttpRequest) -> list[Answer]:
    """Return what this page answers, the newest last. What was said before a redirect is said once."""
    said = [Answer(places=message.extra_tags.split(), said=str(message)) for message in messages.get_messages(request)]
    come = outcome(request)
    if come.problem:
        return [*said, Answer(places=(_sent_from(request),), problem=come.problem)]
    return [*said, come.answer] if come.answer else said


_NOT_SENT_AGAIN = {"csrfmiddlewaretoken", "sure"}


def _sent_from(request: HttpRequest) -> str:
    """Return the place of the form that was sent."""
    return request.POST.get("at", "")
