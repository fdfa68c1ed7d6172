"""Lifts made up for the tests, and the worked examples of DHHS/NIOSH 94-110 (rev. 9/2021)."""

from __future__ import annotations

from decimal import Decimal

from openings.calc.lifting_equation import Coupling, Hands, LiftTask, Mode, Part, Session


def hands(reach="10", height="30", *, angle="0", grip=Coupling.GOOD) -> Hands:
    return Hands(horizontal_in=Decimal(reach), vertical_in=Decimal(height), asymmetry_deg=Decimal(angle), coupling=grip)


def lift(load="44", *, origin=None, destination=None, pace="0.2", hours="1", travel=None, **more) -> LiftTask:
    """A lift at its best: hands close, at 30 in, straight ahead, good grip."""
    return LiftTask(
        load_lb=Decimal(load),
        origin=origin or hands(),
        destination=destination,
        travel_in=Decimal(travel) if travel else (None if destination else Decimal(10)),
        lifts_per_min=Decimal(pace),
        duration_h=Decimal(hours),
        **more,
    )


# 94-110 p. 33-46, worked examples 1, 2 and 4. Example 4 as printed; of 1 and 2 the figures are from memory and
# multiply out to the printed RWL.
def press_stock(mode: Mode) -> LiftTask:
    grip = Coupling.FAIR
    return lift("44", origin=hands(23, 15, grip=grip), destination=hands(23, 64, grip=grip), pace="0.1", mode=mode)


def supply_rolls(mode: Mode) -> LiftTask:
    grip = Coupling.POOR
    return lift("35", origin=hands(15, 27, grip=grip), destination=hands(20, 10, grip=grip), pace="0.1", mode=mode)


def package_inspection(mode: Mode) -> LiftTask:
    ends = {"origin": hands(10, 22, grip=Coupling.FAIR), "destination": hands(20, 59, grip=Coupling.FAIR)}
    return lift("26", **ends, pace="3", hours="0.75", mode=mode)


def session(work: int, recovery: int = 0) -> Session:
    return Session(Decimal(work), Decimal(recovery))


def part(load: int, firwl: int, pace: int, height: int = 30) -> Part:
    return Part(
        load_lb=Decimal(load), firwl_lb=Decimal(firwl), lifts_per_min=Decimal(pace), vertical_in=Decimal(height)
    )
