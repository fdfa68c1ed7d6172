"""Stock is never below nothing, and what lies, is loaded and came back goes on meaning what it meant."""

from django.db import migrations

LIES_THERE = """SELECT EXISTS (SELECT FROM materials_movement WHERE source_id = ($1).id)
    OR EXISTS (SELECT FROM materials_movement WHERE destination_id = ($1).id)
    OR EXISTS (SELECT FROM materials_remnant WHERE place_id = ($1).id)"""
IS_OF_THE_LOT = """SELECT EXISTS (SELECT FROM materials_movement WHERE lot_id = ($1).id)
    OR EXISTS (SELECT FROM materials_remnant WHERE lot_id = ($1).id)"""
IS_OF_THE_PRODUCT = """SELECT EXISTS (SELECT FROM materials_movement WHERE product_id = ($1).id)
    OR EXISTS (SELECT FROM materials_remnant WHERE product_id = ($1).id)
    OR EXISTS (SELECT FROM materials_plannedroll WHERE product_id = ($1).id)
    OR EXISTS (SELECT FROM materials_pullsheetline WHERE product_id = ($1).id)"""
CAME_BACK = """SELECT EXISTS (
    SELECT FROM materials_plannedroll WHERE remnant_id = ($1).id AND came_back_in IS NOT NULL)"""

MOVED = "a movement is never changed; enter another one back"
ANOTHER_PLACE = "stock was moved or a remnant lies there; add another place"
PLANNED = "a sheet that is written stays as it is; ask for another revision"
ENTERED = "what was entered as come back stays; enter the right length"
DOCUMENT = "a document says what it says; add another"

KEPT = (
    ("materials_place", "kind", "place_keeps_its_kind", ANOTHER_PLACE, LIES_THERE),
    ("materials_place", "crew_id", "place_keeps_its_crew", ANOTHER_PLACE, LIES_THERE),
    ("materials_place", "opening_id", "place_keeps_its_opening", ANOTHER_PLACE, LIES_THERE),
    ("materials_lot", "product_id", "lot_keeps_its_product",
     "stock of this lot was moved or a remnant is of it; add another lot", IS_OF_THE_LOT),
    ("materials_product", "measure", "product_keeps_its_measure",
     "stock, sheets or remnants of this product are counted by it; add another product", IS_OF_THE_PRODUCT),
    ("materials_movement", "product_id", "movement_keeps_its_product", MOVED),
    ("materials_movement", "lot_id", "movement_keeps_its_lot", MOVED),
    ("materials_movement", "source_id", "movement_keeps_its_source", MOVED),
    ("materials_movement", "destination_id", "movement_keeps_its_destination", MOVED),
    ("materials_movement", "packages", "movement_keeps_its_packages", MOVED),
    ("materials_movement", "moved_by_id", "movement_keeps_who_moved_it", MOVED),
    ("materials_pullsheet", "crew_day_id", "pull_sheet_keeps_its_crew_day", PLANNED),
    ("materials_pullsheet", "revision", "pull_sheet_keeps_its_revision", PLANNED),
    ("materials_pullsheetline", "sheet_id", "line_keeps_its_pull_sheet", PLANNED),
    ("materials_pullsheetline", "product_id", "line_keeps_its_product", PLANNED),
    ("materials_plannedroll", "sheet_id", "roll_keeps_its_pull_sheet", PLANNED),
    ("materials_plannedroll", "product_id", "roll_keeps_its_product", PLANNED),
    ("materials_plannedroll", "remnant_id", "roll_keeps_its_remnant", PLANNED),
    ("materials_plannedroll", "length_in", "roll_keeps_its_length", PLANNED),
    ("materials_rollcut", "roll_id", "cut_keeps_its_roll", PLANNED),
    ("materials_rollcut", "opening_id", "cut_keeps_its_opening", PLANNED),
    ("materials_rollcut", "length_in", "cut_keeps_its_length", PLANNED),
    ("materials_settlement", "roll_id", "settlement_keeps_its_roll", ENTERED),
    ("materials_settlement", "came_back_in", "settlement_keeps_its_length", ENTERED),
    ("materials_settlement", "entered_by_id", "settlement_keeps_who_entered_it", ENTERED),
    ("materials_remnant", "product_id", "remnant_keeps_its_product",
     "a remnant stays of its product; scrap it and enter another"),
    ("materials_remnant", "left_of_id", "remnant_keeps_its_roll",
     "a remnant stays of the roll that it came back of; enter another as found"),
    ("materials_remnant", "length_in", "remnant_that_went_keeps_its_length",
     "it went on a truck at this length and came back; scrap it and enter another", CAME_BACK),
    ("materials_evidence", "product_id", "evidence_keeps_its_product", DOCUMENT),
    ("materials_evidence", "neighbor_id", "evidence_keeps_its_neighbor", DOCUMENT),
    ("materials_evidence", "verdict", "evidence_keeps_its_verdict", DOCUMENT),
    ("materials_evidence", "document", "evidence_keeps_its_document", DOCUMENT),
)  # fmt: skip

NEVER_DELETED = f"""
CREATE TRIGGER movement_is_never_deleted BEFORE DELETE ON materials_movement
FOR EACH ROW EXECUTE FUNCTION history_keeps_its_meaning('id', '{MOVED}');
"""

STOCK = """
CREATE FUNCTION stock_is_never_below_nothing() RETURNS trigger LANGUAGE plpgsql AS $$
-- Holds both places in the order of their ids, as services do: of two who take the last package one is refused, and
-- nobody changes meanwhile what kind of place they are.
DECLARE
    place materials_place;
    left_there numeric;
BEGIN
    IF NEW.lot_id IS NOT NULL AND NEW.product_id <> (SELECT product_id FROM materials_lot WHERE id = NEW.lot_id) THEN
        RAISE EXCEPTION USING ERRCODE = '23Z01', CONSTRAINT = 'movement_is_of_the_product_of_its_lot',
            TABLE = TG_TABLE_NAME, COLUMN = 'lot', MESSAGE = 'the lot is one of another product';
    END IF;
    PERFORM FROM materials_place WHERE id IN (NEW.source_id, NEW.destination_id) ORDER BY id FOR UPDATE;
    SELECT * INTO place FROM materials_place WHERE id = NEW.source_id;
    IF place.kind IN ('warehouse', 'truck') THEN
        SELECT coalesce(sum(CASE WHEN destination_id = place.id THEN packages ELSE -packages END), 0) INTO left_there
        FROM materials_movement
        WHERE product_id = NEW.product_id AND lot_id IS NOT DISTINCT FROM NEW.lot_id
            AND place.id IN (source_id, destination_id);
        IF left_there < 0 THEN
            RAISE EXCEPTION USING ERRCODE = '23Z01', CONSTRAINT = TG_NAME, TABLE = TG_TABLE_NAME, COLUMN = 'packages',
                MESSAGE = format('%s does not hold %s; it would be left with %s', place.name,
                                 trim_scale(NEW.packages), trim_scale(left_there));
        END IF;
    END IF;
    RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER stock_is_never_below_nothing AFTER INSERT ON materials_movement
DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION stock_is_never_below_nothing();
"""


def keeps(table, column, name, *arguments):
    field = column.removesuffix("_id")
    said = ", ".join(f"'{argument}'" for argument in (field, *arguments))
    return migrations.RunSQL(
        f"""
        CREATE TRIGGER {name} BEFORE UPDATE OF {column} ON {table}
        FOR EACH ROW WHEN (OLD.{column} IS DISTINCT FROM NEW.{column})
        EXECUTE FUNCTION history_keeps_its_meaning({said});
        """,
        f"DROP TRIGGER {name} ON {table};",
    )


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0004_history_keeps_its_meaning"),
        ("materials", "0005_settlements_and_lines_without_products"),
    ]

    operations = [
        *(keeps(*kept) for kept in KEPT),
        migrations.RunSQL(NEVER_DELETED, "DROP TRIGGER movement_is_never_deleted ON materials_movement;"),
        migrations.RunSQL(
            STOCK,
            "DROP TRIGGER stock_is_never_below_nothing ON materials_movement;"
            " DROP FUNCTION stock_is_never_below_nothing();",
        ),
    ]
