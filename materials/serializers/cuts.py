"""Roll cuts by themselves, asked and planned."""

from __future__ import annotations

from decimal import ROUND_FLOOR, Decimal
from typing import TYPE_CHECKING, Any

from rest_framework import serializers

from jobs.calc.say import counted
from jobs.calc.text import has_control
from jobs.measures import InchesField
from jobs.names import KnownNames
from materials.calc.rolls import KEEP_IN, NO_TRIM, Cut, Roll
from materials.queries.cuts import MOST_PIECES, AlikePieces, PlannedCuts
from openings.measure_fields import LengthField
from openings.models.fields import SMALLEST_IN

if TYPE_CHECKING:
    from django_stubs_ext import StrOrPromise

MOST_ROLL_LENGTHS = 20
MOST_REMNANTS = 1000
LONGEST_LIMIT_S = 30
USUAL_LIMIT_S = 5

_ABOVE_0: dict[str, StrOrPromise] = {"min_value": "must be more than 0"}
_NOT_BELOW_0: dict[str, StrOrPromise] = {"min_value": "must not be below 0"}


def _length_above_0() -> LengthField:
    return LengthField(10, 5, min_value=SMALLEST_IN, error_messages=_ABOVE_0)


class PieceAsked(KnownNames):
    """Pieces of one length, and what they are for."""

    length_in = _length_above_0()
    count = serializers.IntegerField(
        min_value=1,
        max_value=MOST_PIECES,
        required=False,
        default=1,
        error_messages={"min_value": "must be 1 or more", "max_value": f"at most {MOST_PIECES:,} are planned at once"},
    )
    label = serializers.CharField(  # type: ignore[assignment]
        max_length=120,
        required=False,
        default="",
        allow_blank=True,
        help_text="Such as `W3-01 sill`; its place in the list where it has none.",
    )

    def validate_label(self, label: str) -> str:
        if has_control(label):
            raise serializers.ValidationError("holds a control character; send plain text")
        return label

    def validate(self, values: dict[str, Any]) -> AlikePieces:
        return AlikePieces(**values)


class CutsAsked(KnownNames):
    """Pieces, and the rolls and remnants from which they may be cut."""

    roll_lengths_in = serializers.ListField(
        child=_length_above_0(),
        max_length=MOST_ROLL_LENGTHS,
        required=False,
        default=list,
        help_text="In which new rolls come, as many as it takes.",
    )
    roll_prices = serializers.ListField(
        child=serializers.DecimalField(10, 4, min_value=Decimal("0.0001"), error_messages=_ABOVE_0),
        max_length=MOST_ROLL_LENGTHS,
        required=False,
        default=list,
        help_text="One for each roll length; without them the fewest rolls are the best.",
    )
    remnants_in = serializers.ListField(
        child=_length_above_0(), max_length=MOST_REMNANTS, required=False, default=list, help_text="Each is cut once."
    )
    trim_in = LengthField(
        10,
        5,
        min_value=0,
        required=False,
        default=NO_TRIM,
        error_messages=_NOT_BELOW_0,
        help_text="Lost between two cuts and after a cut that does not end the roll.",
    )
    shortest_remnant_in = LengthField(
        10,
        5,
        min_value=0,
        required=False,
        default=KEEP_IN,
        error_messages=_NOT_BELOW_0,
        help_text="The shortest that is worth keeping.",
    )
    lap_in = LengthField(
        10,
        5,
        min_value=0,
        required=False,
        allow_null=True,
        default=None,
        error_messages=_NOT_BELOW_0,
        help_text="A piece longer than the longest new roll is cut in equal parts that lap so far; else it is refused.",
    )
    pieces = serializers.ListField(child=PieceAsked(), allow_empty=False, max_length=MOST_PIECES)
    time_limit_s = serializers.DecimalField(
        6,
        3,
        min_value=Decimal("0.001"),
        max_value=LONGEST_LIMIT_S,
        required=False,
        default=Decimal(USUAL_LIMIT_S),
        error_messages=_ABOVE_0 | {"max_value": f"at most {LONGEST_LIMIT_S} seconds may be searched"},
        help_text="When it ends the search, the best plan so far is answered with its bound.",
    )

    def validate_pieces(self, pieces: list[AlikePieces]) -> list[AlikePieces]:
        total = sum(piece.count for piece in pieces)
        if total > MOST_PIECES:
            sentence = f"{counted(total, 'piece')} in all; at most {MOST_PIECES:,} are planned at once"
            raise serializers.ValidationError(sentence)
        return pieces

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        prices, lengths = len(values["roll_prices"]), len(values["roll_lengths_in"])
        if prices and prices != lengths:
            sentence = (
                f"{counted(prices, 'price')} for {counted(lengths, 'roll length')}; give one for each length, or none"
            )
            raise serializers.ValidationError({"roll_prices": sentence})
        return values


class CutSerializer(serializers.Serializer[Cut]):
    length_in = InchesField(10, 5)
    label = serializers.CharField()  # type: ignore[assignment]


class CutUpSerializer(serializers.Serializer[Roll]):
    """One roll or remnant: its cuts in order, and what is left of it."""

    length_in = InchesField(10, 5)
    remnant = serializers.SerializerMethodField()
    cuts = CutSerializer(many=True)
    left_in = InchesField(10, 5)

    def get_remnant(self, roll: Roll) -> bool:
        return roll.remnant is not None


class PlannedCutsSerializer(serializers.Serializer[PlannedCuts]):
    rolls = CutUpSerializer(many=True, source="plan.rolls")
    rolls_new = serializers.IntegerField(source="plan.rolls_new")
    rolls_lower_bound = serializers.IntegerField(source="plan.rolls_lower_bound", help_text="No plan opens fewer.")
    gap = serializers.IntegerField(help_text="`rolls_new` less `rolls_lower_bound`.")
    cost = serializers.DecimalField(14, 4, allow_null=True, help_text="Null without prices.")
    cost_lower_bound = serializers.DecimalField(14, 4, allow_null=True, rounding=ROUND_FLOOR)
    proven = serializers.BooleanField(source="plan.proven", help_text="No plan costs less.")
    ended_by_time_limit = serializers.BooleanField(source="plan.is_cut_short")
    verdict = serializers.CharField(source="plan.verdict")
    seconds = serializers.FloatField()
