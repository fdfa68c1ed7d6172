"""What migrations make of openings and measurements that were written before them."""

from __future__ import annotations

from datetime import UTC, datetime

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


def test_who_fastened_a_unit_screwed_its_straps_on_too(db):
    graph = MigrationExecutor(connection).loader.graph
    migration = next(key for key in graph.nodes if key[1].endswith("straps_are_recorded_by_themselves"))
    before = [parent.key for parent in graph.node_map[migration].parents if parent.key[0] == "openings"]
    models = migrated_to(*before)
    job = models.get_model("jobs", "Job").objects.create(code="weir", name="Weir Cottage")
    crew = models.get_model("jobs", "Crew").objects.create(name="Alder", people_count=2)
    person = models.get_model("jobs", "Person").objects.create(username="ines")
    details, openings = models.get_model("openings", "InstallationDetail"), models.get_model("openings", "Opening")
    fastened_at = datetime(2026, 11, 27, 15, 30, tzinfo=UTC)
    for number, (has_straps, steps, has_membrane) in enumerate(
        [(True, ["set-unit", "fasten"], True), (True, ["set-unit"], True), (False, ["set-unit", "fasten"], False)]
    ):
        detail = details.objects.create(
            job=job, name=f"casing {number}", mounting="casing", barrier_before_window=False, casing_width_in=2,
            has_straps=has_straps, has_head_membrane=has_membrane, head_flashing="before membrane",
        )  # fmt: skip
        opening = openings.objects.create(
            job=job, detail=detail, mark=f"W{number}", schedule_mark="W", position=number,
            ro_width_in=36, ro_height_in=54, unit_width_in="35.5", unit_height_in="53.5",
        )  # fmt: skip
        record = models.get_model("openings", "InstallRecord").objects.create(
            opening=opening, crew=crew, started_by=person, started_at=fastened_at
        )
        for step in steps:
            models.get_model("openings", "StepRecord").objects.create(
                record=record, step=step, recorded_by=person, recorded_at=fastened_at
            )
    models = migrated_to(migration)
    (straps,) = models.get_model("openings", "StepRecord").objects.filter(step="straps")
    assert (straps.record.opening.mark, straps.recorded_by_id, straps.recorded_at) == ("W0", person.pk, fastened_at)
    caps = (
        models.get_model("openings", "InstallationDetail")
        .objects.order_by("name")
        .values_list("head_flashing", flat=True)
    )
    assert list(caps) == ["before membrane", "before membrane", "under second strip"]
