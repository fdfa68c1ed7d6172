"""Endpoints of products, what they serve and what they may touch."""

from __future__ import annotations

from typing import Any, ClassVar

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs.permissions import SHELF
from jobs.queries import today_on_sites
from jobs.resource import Addable, Resource, refuse_body, row_of
from jobs.services import add
from jobs.signed_in import signed_in
from materials import queries, services
from materials.calc.product_columns import PRODUCT_COLUMNS
from materials.models import Compatibility, DetailProduct, Evidence, Product
from materials.serializers import (
    CompatibilitySerializer,
    DetailProductSerializer,
    EvidenceSerializer,
    PairSerializer,
    ProductSerializer,
    StartingSerializer,
    VerdictSerializer,
)
from materials.workbook import products_workbook
from openings.api import Download, file_answer
from openings.measure_fields import XLSX


class Products(Resource[Product]):
    queryset = Product.objects.all()
    serializer_class = ProductSerializer
    writers = SHELF
    filterset_fields: ClassVar = ["code", "measure", "package", "chemistry"]
    ordering_fields: ClassVar = ["code", "name"]
    ordering: ClassVar = ["code"]

    def perform_update(self, serializer: BaseSerializer[Product]) -> None:
        serializer.instance = services.change_product(product_id=row_of(serializer).pk, **serializer.validated_data)

    @extend_schema(request=None, responses=ProductSerializer)
    @action(detail=True, methods=["post"])
    def retire(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Choose it no more; its stock and history stay. 409 says what it still serves."""
        refuse_body(request)
        return self._shown(services.retire_product(product_id=self.get_object().pk))

    @extend_schema(request=None, responses=ProductSerializer)
    @action(detail=True, methods=["post"])
    def reinstate(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Take a retired product back into service."""
        refuse_body(request)
        return self._shown(services.reinstate_product(product_id=self.get_object().pk))

    @extend_schema(request=StartingSerializer, responses={201: ProductSerializer(many=True)})
    @action(detail=False, methods=["post"], pagination_class=None, filterset_fields=None)
    def start(self, request: Request, **kwargs: Any) -> Response:
        """Add products of the starting list, each as the standard of what it serves; codes that are taken stay."""
        body = StartingSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        added = services.start_catalogue(**body.validated_data)
        return Response(self.get_serializer(added, many=True).data, status=201)

    def _shown(self, product: Product) -> Response:
        return Response(self.get_serializer(product).data)


class ProductsWorkbook(Download):
    @extend_schema(operation_id="products_workbook_retrieve", responses={(200, XLSX): OpenApiTypes.BINARY})
    def get(self, request: Request, **kwargs: Any) -> HttpResponse:
        """The products in service as an Excel workbook that can be changed and taken again."""
        rows = list(queries.product_list().values(*PRODUCT_COLUMNS))
        return file_answer(products_workbook(rows, on=today_on_sites()), kind=XLSX, name="products.xlsx")


class DetailProducts(Resource[DetailProduct]):
    """Which product serves a part: of one detail, or as the shop's standard where `detail` is null."""

    queryset = DetailProduct.objects.all()
    serializer_class = DetailProductSerializer
    filterset_fields: ClassVar = {"detail": ["exact", "isnull"], "part": ["exact"], "product": ["exact"]}
    ordering_fields: ClassVar = ["detail", "part"]
    ordering: ClassVar = ["pk"]

    def perform_create(self, serializer: BaseSerializer[DetailProduct]) -> None:
        serializer.instance = services.choose_product(**serializer.validated_data)

    def perform_update(self, serializer: BaseSerializer[DetailProduct]) -> None:
        serializer.instance = services.change_choice(choice_id=row_of(serializer).pk, **serializer.validated_data)

    @extend_schema(request=None, responses={204: None})
    @action(detail=True, methods=["post"])
    def drop(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Choose it no more: the detail takes the standard, or the shop has one standard less.

        409 where a detail would be left without a product for the part.
        """
        refuse_body(request)
        services.drop_choice(choice_id=self.get_object().pk)
        return Response(status=204)


class EvidenceOnPairs(Addable[Evidence]):
    """Documents on two products that touch: a report, a maker's letter, a field test. The newest counts."""

    queryset = Evidence.objects.all()
    serializer_class = EvidenceSerializer
    writers = SHELF
    filterset_fields: ClassVar = ["product", "neighbor", "verdict"]
    ordering_fields: ClassVar = ["recorded_at"]
    ordering: ClassVar = ["-recorded_at", "-pk"]

    def perform_create(self, serializer: BaseSerializer[Evidence]) -> None:
        serializer.instance = add(Evidence(recorded_by=signed_in(self.request), **serializer.validated_data))


class Compatibilities(Resource[Compatibility]):
    queryset = Compatibility.objects.all()
    serializer_class = CompatibilitySerializer
    writers = SHELF
    filterset_fields: ClassVar = ["chemistry", "neighbor", "verdict"]
    ordering_fields: ClassVar = ["chemistry", "neighbor"]
    ordering: ClassVar = ["chemistry", "neighbor"]

    @extend_schema(responses=VerdictSerializer)
    @action(detail=False, pagination_class=None, filterset_fields=None, query=PairSerializer)
    def verdict(self, request: Request, **kwargs: Any) -> Response:
        """Whether two chemistries may touch, whichever way round; `test first` where nothing is known."""
        return Response(VerdictSerializer(queries.verdict(**self.asked())).data)
