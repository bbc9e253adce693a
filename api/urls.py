"""The addresses of the API, version 1."""

from django.urls import URLPattern, URLResolver, include, path, re_path
from drf_spectacular.views import SpectacularAPIView, SpectacularSwaggerSplitView

import api.base.paths  # noqa: F401 (the converter of row numbers)
from api.audit.views import AuditEvents
from api.base.nothing import Nothing
from api.builds.views import BuildCancel, Builds, OneBuild
from api.cure_uploads import views as cure_uploads
from api.cures.views import LoggedCureFile, LoggedCures, OneLoggedCure
from api.file_tasks.urls import urlpatterns as file_tasks
from api.floor import views as floor
from api.gauge_readings.views import GaugeReadingCorrections, GaugeReadings, OneGaugeReading
from api.materials import views as materials
from api.money.urls import urlpatterns as money
from api.nouns.meter_readings import MeterReadings
from api.nouns.part_moves import PartMoves
from api.nouns.urls import urlpatterns as nouns
from api.photos import views as photos
from api.plans import edits, levers, moved, problems, reasons
from api.plans import views as plans
from api.records import views as records
from api.shifts.views import Shifts
from api.sites.views import OneSite, Sites
from api.spares import assumptions
from api.spares import views as spares
from api.stage_runs.taking_back import StageRunTakeBack, TapsTakenBack
from api.stage_runs.views import OneStageRun, StageRunEnd, StageRuns
from api.tokens.views import OneToken, Tokens
from api.tyres.damage import OneDamage, TyreDamage
from api.tyres.reports import DamageReports
from api.tyres.views import OneTyre, TyreMoves, Tyres
from api.webhooks import views as webhooks
from api.work_orders.views import OneWorkOrder, WorkOrderMoves, WorkOrders

on_plan = [
    path("", plans.OnePlan.as_view()),
    path("bay-plan/", plans.PlanText.as_view()),
    path("problem/", plans.PlanProblem.as_view()),
    path("verdict/", plans.PlanVerdict.as_view()),
    path("odds/", plans.PlanOdds.as_view()),
    path("reasons/", reasons.PlanReasons.as_view()),
    path("moved/", moved.PlanMoved.as_view()),
    path("levers/", levers.PlanLevers.as_view()),
    path("levers/cancel/", levers.PlanLeversCancel.as_view()),
    path("publish/", plans.PlanPublication.as_view()),
    path("move/", edits.DraftMove.as_view()),
    path("lock/", edits.DraftLock.as_view()),
    path("unlock/", edits.DraftUnlock.as_view()),
    path("leave-out/", edits.DraftLeaveOut.as_view()),
    path("put-first/", edits.DraftPutFirst.as_view()),
]

on_site: list[URLPattern | URLResolver] = [
    path("", OneSite.as_view()),
    path("tokens/", Tokens.as_view()),
    path("tokens/<row:token>/", OneToken.as_view()),
    path("tyres/", Tyres.as_view()),
    path("tyres/<row:tyre>/", OneTyre.as_view()),
    path("tyres/<row:tyre>/moves/", TyreMoves.as_view()),
    path("tyres/<row:tyre>/damage/", TyreDamage.as_view()),
    path("tyres/<row:tyre>/damage/<row:damage>/", OneDamage.as_view()),
    path("tyres/<row:tyre>/damage/<row:damage>/cures/", LoggedCures.as_view()),
    path("tyres/<row:tyre>/damage/<row:damage>/cures/<row:cure>/", OneLoggedCure.as_view()),
    path("tyres/<row:tyre>/damage/<row:damage>/cures/<row:cure>/file/", LoggedCureFile.as_view()),
    path("tyres/<row:tyre>/damage/<row:damage>/cure-uploads/", cure_uploads.CureUploads.as_view()),
    path("tyres/<row:tyre>/damage/<row:damage>/cure-readings/", cure_uploads.CureReadings.as_view()),
    path("tyres/<row:tyre>/damage/<row:damage>/photos/", photos.DamagePhotos.as_view()),
    path("tyres/<row:tyre>/damage/<row:damage>/gauge-readings/", GaugeReadings.as_view()),
    path(
        "tyres/<row:tyre>/damage/<row:damage>/gauge-readings/judge/",
        cure_uploads.GaugeReadingsJudged.as_view(),
    ),
    path("gauge-readings/<row:reading>/", OneGaugeReading.as_view()),
    path("gauge-readings/<row:reading>/corrections/", GaugeReadingCorrections.as_view()),
    path("cure-uploads/<row:upload>/", cure_uploads.OneCureUpload.as_view()),
    path("cure-uploads/<row:upload>/keep/", cure_uploads.CureUploadKeep.as_view()),
    path("photos/<row:photo>/", photos.OnePhoto.as_view()),
    path("photos/<row:photo>/jpeg/", photos.PhotoPicture.as_view()),
    path("damage-reports/", DamageReports.as_view()),
    path("material-stock/", materials.MaterialStockList.as_view()),
    path("tyre-deliveries/", spares.TyreDeliveries.as_view()),
    path("tyre-deliveries/<row:delivery>/", spares.OneTyreDelivery.as_view()),
    path("tyre-deliveries/<row:delivery>/receipt/", spares.TyreDeliveryReceipt.as_view()),
    path("removal-assumptions/", assumptions.RemovalAssumptions.as_view()),
    path("removal-assumptions/<row:assumption>/", assumptions.OneRemovalAssumption.as_view()),
    path("machines/<row:machine>/meter-readings/", MeterReadings.as_view()),
    path("shifts/", Shifts.as_view()),
    path("heater-set-parts/<row:row>/moves/", PartMoves.as_view()),
    path("work-orders/", WorkOrders.as_view()),
    path("work-orders/<row:number>/", OneWorkOrder.as_view()),
    path("work-orders/<row:number>/moves/", WorkOrderMoves.as_view()),
    path("work-orders/<row:number>/uses/", materials.OrderUses.as_view()),
    path("work-orders/<row:number>/materials/", materials.OrderMaterials.as_view()),
    path("work-orders/<row:number>/meter-readings/", materials.OrderMeter.as_view()),
    path("work-orders/<row:number>/counts/", materials.OrderCounts.as_view()),
    path("work-orders/<row:number>/cures/", records.OrderCures.as_view()),
    path("work-orders/<row:number>/record/", records.Record.as_view()),
    path("work-orders/<row:number>/record/signatures/", records.RecordSignatures.as_view()),
    path("work-orders/<row:number>/inspections/", records.Inspections.as_view()),
    path("promises/", reasons.Promises.as_view()),
    path("plan-builds/", Builds.as_view()),
    path("plan-builds/<row:build>/", OneBuild.as_view()),
    path("plan-builds/<row:build>/cancel/", BuildCancel.as_view()),
    path("plans/", plans.Plans.as_view()),
    path("plans/<row:plan>/", include(on_plan)),
    path("problems/check/", problems.ProblemCheck.as_view()),
    path("stage-runs/", StageRuns.as_view()),
    path("stage-runs/taken-back/", TapsTakenBack.as_view()),
    path("stage-runs/<row:run>/take-back/", StageRunTakeBack.as_view()),
    path("stage-runs/<row:run>/", OneStageRun.as_view()),
    path("stage-runs/<row:run>/finish/", StageRunEnd.as_view()),
    path("stage-problems/", floor.StageProblems.as_view()),
    path("attendance/", floor.Attendance.as_view()),
    path("attendance/<row:damage>/", floor.OneAttendance.as_view()),
    path("attendance/<row:damage>/sign-on/", floor.WatchSignOn.as_view()),
    path("attendance/<row:damage>/sign-off/", floor.WatchSignOff.as_view()),
    path("attendance/<row:damage>/hand-over/", floor.WatchHandOver.as_view()),
    path("bay-closings/", floor.BayClosings.as_view()),
    path("webhooks/", webhooks.Webhooks.as_view()),
    path("webhooks/<row:webhook>/", webhooks.OneWebhook.as_view()),
    path("webhooks/<row:webhook>/try/", webhooks.WebhookTry.as_view()),
    path("webhooks/<row:webhook>/deliveries/", webhooks.Deliveries.as_view()),
    path("webhooks/<row:webhook>/deliveries/<row:delivery>/", webhooks.OneDelivery.as_view()),
    path("webhooks/<row:webhook>/deliveries/<row:delivery>/again/", webhooks.DeliveryAgain.as_view()),
    path("audit-events/", AuditEvents.as_view()),
    *file_tasks,
    *money,
    *nouns,
]

urlpatterns = [
    path("schema/", SpectacularAPIView.as_view(), name="api_schema"),
    path("docs/", SpectacularSwaggerSplitView.as_view(url_name="api_schema"), name="api_docs"),
    path("sites/", Sites.as_view()),
    path("sites/<slug:site>/", include(on_site)),
    re_path("", Nothing.as_view()),
]
