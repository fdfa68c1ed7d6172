"""Pages of this floor, split by noun."""

from jobs.pages.account import account
from jobs.pages.person import people, person, welcome
from jobs.pages.sign_in import sign_ins

__all__ = ["account", "people", "person", "sign_ins", "welcome"]
