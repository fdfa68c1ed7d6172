"""The words for where an opening stands."""


class State:
    """Where an opening stands, worked out from its records; never stored."""

    VOID, DONE, STARTED, HELD, ASSIGNED, READY = "void", "done", "started", "on hold", "assigned", "ready"
    ALL = (READY, HELD, ASSIGNED, STARTED, DONE, VOID)
