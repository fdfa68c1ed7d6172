"""Sentences of the trade in the language of the page."""

from __future__ import annotations

from django import template

from jobs import translated

register = template.Library()

register.filter("translated", translated.translated)
