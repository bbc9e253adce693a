"""The demo's repair materials with lots, its invented chart, and one finished cure with its record."""

from datetime import timedelta
from decimal import Decimal

from planner.domain.injury import InjurySource
from planner.models import Damage, HeaterSet, Material, MaterialLot, User, WorkOrder
from planner.services.cure_log_uploads import cure_log_upload_add, upload_keep
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import FOLDER, Row, table_of_site
from planner.services.injury_photos import injury_photo_add
from planner.services.inspections import inspection_record
from planner.services.logged_cures import cure_decision_sign
from planner.services.materials import material_use_record
from planner.services.repair_records import record_sign
from planner.services.rows import row_change

_FIGURES = (
    "reference_c",
    "t90_min",
    "scorch_min",
    "reversion_min",
    "activation_energy_j_mol",
    "conductivity_w_mk",
    "density_kg_m3",
    "heat_capacity_j_kgk",
)
_WHY_ACCEPTED = (
    "The gap falls into the steady hold and the logger's cable was loose; hand gauge read 140 °C at "
    "both pads then. The spike is one reading."
)


def cures_load(scene: Scene) -> None:
    """Materials, lots, chart lines and what fills which zone."""
    for row in table_of_site("materials", scene.site.code):
        names = {name: row[name] for name in ("code", "name", "unit", "storage")}
        figures = {name: float(row[name]) for name in _FIGURES if row[name]}
        scene.add("material", least_stock=Decimal(row["least_stock"]), **names, **figures)
    materials = {row.code: row for row in Material.objects.filter(site=scene.site)}
    for row in table_of_site("material_lots", scene.site.code):
        _lot(scene, materials[row["material"]], row)
    for row in table_of_site("chart_lines", scene.site.code):
        scene.add(
            "curechartline",
            material=materials[row["material"]],
            set_kind=row["set_kind"],
            thickness_mm=Decimal(row["thickness_mm"]),
            timed_min=int(row["timed_min"]),
            source=row["source"],
        )
    for row in table_of_site("zone_cures", scene.site.code):
        layers = {name: materials[row[name]] for name in ("material", "cushion", "casing")}
        scene.add("zonecure", zone=row["zone"], set_kind=row["set_kind"], **layers)


def cure_limits_load(scene: Scene) -> None:
    """What the site, its sets and its materials ask of a cure; the rest stays common practice."""
    materials = {row.code: row for row in Material.objects.filter(site=scene.site)}
    sets = {row.code: row for row in HeaterSet.objects.filter(site=scene.site)}
    for row in table_of_site("cure_limits", scene.site.code):
        scene.add(
            "curelimitrow",
            limit=row["limit"],
            value=float(row["value"]),
            place=row["place"],
            material=materials.get(row["material"]),
            heater_set=sets.get(row["heater_set"]),
            source=row["source"],
        )


def finished_cure_load(scene: Scene, supervisor: User) -> None:
    """The newest past repair gets its photo, materials, log, decision, inspection and signed record."""
    order = WorkOrder.objects.filter(site=scene.site, state="repaired").order_by("-closed_at").first()
    if order is None or not Material.objects.filter(site=scene.site).exists():
        return
    order = WorkOrder.objects.select_related("site", "tyre", "machine").get(pk=order.pk)
    damage = order.damages.get()
    row_change(
        user=supervisor,
        site=scene.site,
        row=damage,
        values={"source": InjurySource.MEASURED, "cushion_mm": 3, "casing_mm": 18},
        action="damage_measure",
        why="demo site",
    )
    photo = (FOLDER / "injury_photo.jpg").read_bytes()
    injury_photo_add(
        user=supervisor, damage=damage, raw=photo, words="The cut before skiving, with a scale in centimetres"
    )
    _materials(supervisor, order)
    _log(supervisor, damage)
    inspection_record(
        user=supervisor,
        work_order=order,
        released=True,
        found="Surface, edges and inside checked by eye, tap and awl: no blister, no lift, hardness even.",
    )
    record_sign(user=supervisor, work_order=order)


def _lot(scene: Scene, material: Material, row: Row) -> None:
    scene.add(
        "materiallot",
        material=material,
        code=row["code"],
        received_on=scene.today - timedelta(days=int(row["received_days_ago"])),
        expires_on=scene.today + timedelta(days=int(row["expires_in_days"])),
        quantity=Decimal(row["quantity"]),
    )


def _materials(supervisor: User, order: WorkOrder) -> None:
    for code, quantity in (("F2-0417", "1.4"), ("C1-0409", "0.35"), ("V1-077", "0.2")):
        lot = MaterialLot.objects.select_related("material", "site").get(site=order.site, code=code)
        material_use_record(
            user=supervisor,
            lot=lot,
            work_order=order,
            quantity=Decimal(quantity),
            used_at=order.received_at + timedelta(hours=5),
        )


def _log(supervisor: User, damage: Damage) -> None:
    cured = damage.stage_runs.filter(heater_set__isnull=False).first()
    upload = cure_log_upload_add(
        user=supervisor,
        damage=damage,
        raw=(FOLDER / "cure_log.csv").read_bytes(),
        name="set-cure.csv",
        logger="Bay logger",
        heater_set=None if cured is None else cured.heater_set,
    )
    logged = upload_keep(user=supervisor, upload=upload)
    cure_decision_sign(user=supervisor, logged_cure=logged, accepted=True, reason=_WHY_ACCEPTED)
