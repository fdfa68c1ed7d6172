"""What migrations make of openings and measurements that were written before them."""

from __future__ import annotations

from django.apps.registry import Apps
from django.db import connection
from django.db.migrations.executor import MigrationExecutor


def migrated_to(*targets: tuple[str, str]) -> Apps:
    """Return the models as they were after these migrations, and the tables too; the end of the test takes it back."""
    connection.check_constraints()  # no table is altered while checks of its rows wait
    return MigrationExecutor(connection).migrate(list(targets)).apps


def test_measurements_of_before_keep_the_zeros_that_nobody_can_tell_apart(db):
    graph = MigrationExecutor(connection).loader.graph
    migration = next(key for key in graph.nodes if key[1].endswith("what_was_not_measured_and_who_confirmed_a_weight"))
    before = [parent.key for parent in graph.node_map[migration].parents if parent.key[0] == "openings"]
    models = migrated_to(*before)
    job = models.get_model("jobs", "Job").objects.create(code="weir", name="Weir Cottage")
    detail = models.get_model("openings", "InstallationDetail").objects.create(
        job=job, name="flange", mounting="flange", barrier_before_window=True
    )
    opening = models.get_model("openings", "Opening").objects.create(
        job=job, detail=detail, mark="W1", schedule_mark="W1", position=1, weight_lb=5,
        ro_width_in=36, ro_height_in=54, unit_width_in="35.5", unit_height_in="53.5",
    )  # fmt: skip
    person = models.get_model("jobs", "Person").objects.create(username="ines")
    sides = {f"width_{place}_in": 36 for place in ("top", "middle", "bottom")}
    sides |= {f"height_{place}_in": 54 for place in ("left", "middle", "right")}
    models.get_model("openings", "FieldMeasurement").objects.create(
        opening=opening, measured_by=person, is_within_tolerance=True, diagonal_rising_in=10, diagonal_falling_in=10,
        **sides,
    )  # fmt: skip
    models = migrated_to(migration)
    kept = models.get_model("openings", "FieldMeasurement").objects.get()
    assert (kept.twist_in, kept.left_bow_in, kept.diagonal_rising_in) == (0, 0, 10)
    assert models.get_model("openings", "Opening").objects.get().weight_confirmed_by is None
