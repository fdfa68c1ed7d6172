"""Say the frameworks' sentences about bad input in this service's own words: what would be right."""

from __future__ import annotations

import re
from typing import Final

_SAYINGS: Final = {
    r"This field is required\.": "this is missing; give it",
    r"This field may not be null\.": "this must have a value, or be left out",
    r"This field (?:may not|cannot) be blank\.": "this is empty; fill it in",
    r"This field cannot be null\.": "this is missing; give it",
    r"This list may not be empty\.": "this list is empty; give at least one",
    r'Invalid pk "(.*)" - object does not exist\.': r"there is none with the id {0}",
    r"Incorrect type\. Expected pk value, received (\w+)\.": "this must be an id, a whole number",
    r"A valid integer is required\.|Enter a whole number\.": "this must be a whole number, such as 12",
    r"A valid number is required\.|Enter a number\.": "this must be a number, such as 12.5",
    r"Must be a valid boolean\.": "this must be true or false",
    r"Not a valid string\.": "this must be text",
    r'"(.*)" is not a valid choice\.': "“{0}” is not one of the choices; the API document lists them",
    r"Select a valid choice\. (.*) is not one of the available choices\.": (
        "“{0}” is not one of the choices; the API document lists them"
    ),
    r"Select a valid choice\. That choice is not one of the available choices\.": "there is none with that id",
    r"Ensure this value is greater than or equal to (.*)\.": "this must be {0} or more",
    r"Ensure this value is less than or equal to (.*)\.": "this must be {0} or less",
    r"Ensure this (?:field|value) has (?:no more than|at most) (\d+) characters?.*": "at most {0} characters fit here",
    r"Ensure that there are no more than (\d+) digits in total\.": "at most {0} digits fit here",
    r"Ensure that there are no more than (\d+) decimal places\.": "at most {0} digits may follow the decimal point",
    r"Ensure that there are no more than (\d+) digits before the decimal point\.": (
        "at most {0} digits may stand before the decimal point"
    ),
    r"Ensure this field has at least (\d+) elements\.": "list at least {0} here",
    r"Ensure this field has no more than (\d+) elements\.": "at most {0} may be listed here",
    r"Date has wrong format\..*|Enter a valid date\.": (
        "this is not a date; write year, month and day in numbers, with hyphens between"
    ),
    r"Time has wrong format\..*|Enter a valid time\.": (
        "this is not a time of day; write hours from 00 to 23 and minutes, with a colon between"
    ),
    r"Datetime has wrong format\..*|Enter a valid date/time\.": (
        "this is not a date with a time; write it as ISO 8601 has it, with the offset of its zone"
    ),
    r"Expected a list of items but got type .*": "this must be a list",
    r"Invalid data\. Expected a dictionary, but got .*": "this must be an object of names and values",
    r"Expected a dictionary of items but got type .*": "this must be an object of names and values",
    r"No file was submitted\.": "no file came with it; send one as form data under this name",
    r"The submitted data was not a file\..*": "this is not a file; send one as form data under this name",
    r"The submitted file is empty\.": "the file is empty; send one with the schedule in it",
    r"The fields (.*) must make a unique set\.": "there is one already with the same {0}",
    r"(?:A |An )?(.*) with this (.*) already exists\.": "there is one already with this {1}",
    r"Enter a valid .slug. .*": "use letters, digits, hyphens and underscores alone",
    r"This field must be unique\.": "there is one already with this value",
    r"JSON parse error - (.*)": "the body is not JSON: {0}",
    r"Malformed request\.|Multipart form parse error - .*": "the body cannot be read; send it as form data",
    r"Authentication credentials were not provided\.": "sign in first: send a token, or sign in on the pages",
    r"Invalid token\.?": "this token does not work any more; sign in again",
    r"You do not have permission to perform this action\.": "your role may not do this",
    r'Method "(\w+)" not allowed\.': "{0} is not done here; the API document lists what is",
    r'Unsupported media type "(.*)" in request\.': "“{0}” is not read here; send JSON, or form data for a file",
    r"Could not satisfy the request Accept header\.": "this is answered as JSON only; accept application/json",
    r"Invalid page\.": "there is no such page",
    r"Not found\.": "there is no such thing",
}
_OURS: Final = [(re.compile(theirs, re.DOTALL), ours) for theirs, ours in _SAYINGS.items()]


def in_our_words(sentence: str) -> str:
    """Return a sentence of a framework as this service says it; any other as it is.

    >>> in_our_words("Ensure this value is greater than or equal to 1.")
    'this must be 1 or more'
    >>> in_our_words("a day off has no capacity")
    'a day off has no capacity'
    """
    for theirs, ours in _OURS:
        if found := theirs.fullmatch(sentence):
            return ours.format(*found.groups())
    return sentence
