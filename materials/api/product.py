"""Endpoints of products, what they serve and what they may touch."""

from __future__ import annotations

from typing import ClassVar

from jobs.permissions import STOCK
from jobs.resource import Resource
from materials.models import Compatibility, DetailProduct, Product
from materials.serializers import CompatibilitySerializer, DetailProductSerializer, ProductSerializer


class Products(Resource):
    queryset = Product.objects.all()
    serializer_class = ProductSerializer
    writers = STOCK
    filterset_fields: ClassVar = ["code", "measure", "package", "chemistry"]
    ordering_fields: ClassVar = ["code", "name"]
    ordering: ClassVar = ["code"]


class DetailProducts(Resource):
    """Which product serves a part: of one detail, or as the shop's standard where `detail` is null."""

    queryset = DetailProduct.objects.all()
    serializer_class = DetailProductSerializer
    filterset_fields: ClassVar = {"detail": ["exact", "isnull"], "part": ["exact"], "product": ["exact"]}
    ordering_fields: ClassVar = ["detail", "part"]
    ordering: ClassVar = ["pk"]


class Compatibilities(Resource):
    queryset = Compatibility.objects.all()
    serializer_class = CompatibilitySerializer
    writers = STOCK
    filterset_fields: ClassVar = ["chemistry", "neighbor", "verdict"]
    ordering_fields: ClassVar = ["chemistry", "neighbor"]
    ordering: ClassVar = ["chemistry", "neighbor"]
