"""What is typed or chosen on the pages of this floor ⇄ values, split by noun."""

from jobs.forms.drive import DrivesForm

__all__ = [
    "DrivesForm",
]
