"""Errors of what the openings use up."""

from __future__ import annotations

from jobs.errors import BadInput, Conflict


class PieceTooLong(BadInput):
    """A piece of membrane is longer than the roll it is to be cut from."""

    code = "piece-too-long"


class NothingToCutFrom(BadInput):
    """There is no new roll to cut from, and the remnants do not hold everything."""

    code = "nothing-to-cut-from"


class BadProduct(BadInput):
    """A product whose figures contradict one another."""

    code = "bad-product"


class NotFurnished(BadInput):
    """A draw cannot be had as it stands from the products chosen for it; the kinds below say why."""

    code = "not-supplied"


class MissingProduct(NotFurnished):
    """No product is chosen for a part."""

    code = "missing-product"


class MeasureMismatch(NotFurnished):
    """A product is packed in another measure than its part is drawn in."""

    code = "measure-mismatch"


class StripWiderThanRoll(NotFurnished):
    """A detail asks for wider strips, or a wider pan, than the roll gives."""

    code = "strip-wider-than-roll"


class OutOfRange(NotFurnished):
    """A product does not serve the size that it is chosen for."""

    code = "out-of-range"


class LapTooLong(NotFurnished):
    """A run is longer than a roll, and the roll too short to be lapped as the detail asks."""

    code = "lap-too-long"


class NotSealed(NotFurnished):
    """A membrane that must seal is chosen of a kind that is only fastened."""

    code = "not-sealed"


class MissingCoverage(NotFurnished):
    """How much primer is needed is not known, as its coverage or a width is not."""

    code = "missing-coverage"


class DoesNotServe(BadInput):
    """A product was chosen for a part that it cannot serve."""

    code = "does-not-serve"


class ProductInUse(Conflict):
    """A product was to be retired that still serves a part."""

    code = "product-in-use"


class NoLongerServes(Conflict):
    """A product would no longer serve what it is chosen for."""

    code = "no-longer-serves"


class MoreThanWent(BadInput):
    """More came back of a roll than was on it, or less than nothing."""

    code = "more-than-went"


class CameBackWhole(BadInput):
    """A new roll that came back uncut is a package still, no remnant."""

    code = "came-back-whole"


class NotLoaded(Conflict):
    """Nothing comes back of a roll that was never entered as loaded."""

    code = "not-loaded"


class GapTooWide(BadInput):
    """A gap is wider than the thickest backer rod takes."""

    code = "gap-too-wide"


class NothingAssigned(Conflict):
    """A pull sheet was asked for a crew and a day without any opening."""

    code = "nothing-assigned"
