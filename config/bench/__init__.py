"""How fast the service is: each row a ratio to a reference measured in the same run."""

from collections.abc import Callable

from config.bench.board import crew_board_row
from config.bench.cuts import (
    big_day_row,
    days_at_the_bound_row,
    packing_row,
    priced_days_row,
    returned_row,
    scrap_row,
    slowest_day_row,
    slowest_packing_row,
    worst_packing_row,
)
from config.bench.draw import draw_row
from config.bench.formulas import formulas_row
from config.bench.growth import memory_growth_row, time_growth_row
from config.bench.pull_sheet import pull_sheet_row, writers_row
from config.bench.referee import referee_row
from config.bench.schedule import reading_memory_row, reading_row, schedule_row
from config.bench.timing import Row

# The import comes late: the rows that it takes back leave tables swollen for whoever follows. The writers come last,
# since what they write stays.
ROWS: list[Callable[[], Row]] = [
    draw_row,
    formulas_row,
    time_growth_row,
    memory_growth_row,
    days_at_the_bound_row,
    slowest_day_row,
    scrap_row,
    returned_row,
    big_day_row,
    priced_days_row,
    packing_row,
    worst_packing_row,
    slowest_packing_row,
    referee_row,
    crew_board_row,
    pull_sheet_row,
    reading_row,
    reading_memory_row,
    schedule_row,
    writers_row,
]

__all__ = ["ROWS", "Row"]
