"""Pages of this floor, split by noun."""

from jobs.pages.person import people, person, welcome

__all__ = ["people", "person", "welcome"]
