"""Routes of this floor."""

from django.urls import path
from rest_framework.routers import SimpleRouter

from materials import api
from materials.pages import (
    card,
    compatibility,
    crew_board,
    crew_board_cells,
    crew_day,
    detail_card,
    detail_products,
    job_draw,
    new_product,
    opening,
    places,
    product,
    product_list,
    products,
    progress,
    remnants,
    search,
    staging,
    standards,
    starting_products,
    stock,
    takeoff,
)

router = SimpleRouter()
router.register("assignments", api.Assignments)
router.register("details", api.Details)
router.register("products", api.Products)
router.register("detail-products", api.DetailProducts)
router.register("compatibilities", api.Compatibilities)
router.register("compatibility-evidence", api.EvidenceOnPairs)
router.register("places", api.Places)
router.register("lots", api.Lots)
router.register("movements", api.Movements)
router.register("pull-sheets", api.PullSheets)
router.register("remnants", api.Remnants)

urlpatterns = [
    *router.urls,
    path("products.xlsx/", api.ProductsWorkbook.as_view(), name="products-workbook"),
    path("stock/counts/", api.StockCounts.as_view(), name="stock-counts"),
    path("search/", api.Search.as_view(), name="search"),
    path("stock/", api.Stock.as_view(), name="stock"),
    path("shortages/", api.Shortages.as_view(), name="shortages"),
    path("rolls-to-settle/", api.RollsToSettle.as_view(), name="rolls-to-settle"),
    path("planned-rolls/<int:roll_id>/settle/", api.SettleRoll.as_view(), name="settle-roll"),
    path("openings/<int:opening_id>/draw/", api.OpeningDraw.as_view(), name="opening-draw"),
    path("openings/<int:opening_id>/advice/", api.OpeningAdvice.as_view(), name="opening-advice"),
    path("compute/cuts/", api.ComputeCuts.as_view(), name="compute-cuts"),
    path("compute/draw/", api.ComputeDraw.as_view(), name="compute-draw"),
    path("jobs/<int:job_id>/draw/", api.JobDraw.as_view(), name="job-draw"),
    path("jobs/<int:job_id>/takeoff/", api.JobTakeoff.as_view(), name="job-takeoff"),
    path("jobs/<int:job_id>/takeoff.xlsx/", api.TakeoffWorkbook.as_view(), name="takeoff-workbook"),
    path("jobs/<int:job_id>/takeoff.csv/", api.TakeoffText.as_view(), name="takeoff-text"),
    path("boards/staging/", api.StagingBoard.as_view(), name="staging-board"),
    path("boards/cautions/", api.CautionBoard.as_view(), name="caution-board"),
    path("boards/progress/", api.ProgressBoard.as_view(), name="progress-board"),
]
pages = [
    path("search/", search, name="search-page"),
    path("boards/crews/", crew_board, name="crew-board-page"),
    path("boards/crews/cells/", crew_board_cells, name="crew-board-cells-page"),
    path("crew-day/", crew_day, name="crew-day-page"),
    path("boards/staging/", staging, name="staging-page"),
    path("boards/remnants/", remnants, name="remnants-page"),
    path("boards/progress/", progress, name="progress-page"),
    path("openings/<int:opening_id>/", opening, name="opening-page"),
    path("openings/<int:opening_id>/card/", card, name="card-page"),
    path("details/<int:detail_id>/card/", detail_card, name="detail-card-page"),
    path("jobs/<int:job_id>/draw/", job_draw, name="job-draw-page"),
    path("jobs/<int:job_id>/takeoff/", takeoff, name="job-takeoff-page"),
    path("products/", products, name="products-page"),
    path("products/new/", new_product, name="new-product-page"),
    path("products/start/", starting_products, name="starting-products-page"),
    path("products/import/", product_list, name="product-list-page"),
    path("products/<int:product_id>/", product, name="product-page"),
    path("standards/", standards, name="standards-page"),
    path("details/<int:detail_id>/products/", detail_products, name="detail-products-page"),
    path("compatibility/", compatibility, name="compatibility-page"),
    path("stock/", stock, name="stock-page"),
    path("places/", places, name="places-page"),
]
