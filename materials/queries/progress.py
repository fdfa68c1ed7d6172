"""Hours and material against plan, by job."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count

from materials.calc.product import ProductFacts
from materials.models import PullSheet, PullSheetLine
from materials.queries.draw import Choices
from openings.models import Opening, State
from openings.queries import Computable, JobProgress, alike, computable, job_progress


@dataclass(slots=True, kw_only=True)
class MaterialProgress:
    """One product on one job, in the product's measure: planned, planned for what is done, and loaded."""

    product: ProductFacts
    planned: Decimal = Decimal(0)
    planned_done: Decimal = Decimal(0)
    loaded: Decimal = Decimal(0)

    @property
    def planned_packages(self) -> Decimal:
        return self.planned / self.product.package_quantity

    @property
    def planned_done_packages(self) -> Decimal:
        return self.planned_done / self.product.package_quantity

    @property
    def loaded_packages(self) -> Decimal:
        return self.loaded / self.product.package_quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One job on the progress board."""

    progress: JobProgress
    materials: tuple[MaterialProgress, ...]


def progress_board(job_id: int | None = None) -> list[Board]:
    """Return for each job its progress and its materials. Fourteen queries, however many jobs, openings and crews."""
    progress = job_progress(job_id)
    materials = _materials([one.job.pk for one in progress])
    return [
        Board(
            progress=one,
            materials=tuple(sorted(materials[one.job.pk].values(), key=lambda material: material.product.code)),
        )
        for one in progress
    ]


def _materials(jobs: Collection[int]) -> dict[int, dict[str, MaterialProgress]]:
    found: dict[int, dict[str, MaterialProgress]] = defaultdict(dict)
    openings = Opening.objects.not_void().filter(job__in=jobs).with_state().prefetch_related("detail")
    by_job: dict[tuple[int, bool], list[Computable]] = defaultdict(list)
    for item in computable(openings):
        by_job[item.opening.job_id, item.opening.state == State.DONE].append(item)
    choices = Choices({item.opening.detail_id for items in by_job.values() for item in items})
    for (job_id, is_done), items in by_job.items():
        for item, count in alike(items):
            for line, product in choices.supply(item).lines:
                if product is None:
                    continue
                material = found[job_id].setdefault(product.code, MaterialProgress(product=product))
                material.planned += line.quantity * count
                if is_done:
                    material.planned_done += line.quantity * count
    for job_id, product, quantity in _loaded(jobs):
        found[job_id].setdefault(product.code, MaterialProgress(product=product)).loaded += quantity
    return found


def _loaded(jobs: Collection[int]) -> list[tuple[int, ProductFacts, Decimal]]:
    """Return (job, product, quantity) loaded. A truck that served several jobs is shared by their openings' number."""
    lines = PullSheetLine.objects.filter(
        sheet__in=PullSheet.objects.newest_written().values("pk"), loaded_packages__gt=0, product__isnull=False
    ).select_related("product")
    shares: dict[int, dict[int, int]] = defaultdict(dict)
    counted = (
        PullSheet.openings.through.objects.filter(pullsheet__in=PullSheet.objects.newest_written().values("pk"))
        .values_list("pullsheet", "opening__job")
        .annotate(n=Count("pk"))
    )
    for sheet, job_id, count in counted:
        shares[sheet][job_id] = count
    return [
        (
            job_id,
            line.product.as_facts(),
            line.loaded_packages * line.product.package_quantity * count / sum(shares[line.sheet_id].values()),
        )
        for line in lines
        if line.product is not None and line.loaded_packages is not None
        for job_id, count in shares[line.sheet_id].items()
        if job_id in jobs
    ]
