"""The site's data: one file for each noun, constraints in Meta, no decisions."""

from planner.models.api_token import ApiToken
from planner.models.audit_event import AuditEvent
from planner.models.calendar_feed import CalendarFeed
from planner.models.closure import Closure
from planner.models.cost_approval import CostApproval
from planner.models.cost_asset import CostAsset
from planner.models.cost_assumption import CostAssumption
from planner.models.cost_outcome import CostOutcome
from planner.models.cost_period import CostPeriod
from planner.models.cost_price import CostPrice
from planner.models.cost_rate import CostRate
from planner.models.cost_repair import CostRepair
from planner.models.cost_stock import CostStock
from planner.models.cost_use import CostUse
from planner.models.cost_variance import CostVariance
from planner.models.cure_chart_line import CureChartLine
from planner.models.cure_figure import CureFigure
from planner.models.cure_limit import CureLimitRow
from planner.models.cure_log_upload import CureLogUpload
from planner.models.cure_reading import CureReading
from planner.models.damage import Damage
from planner.models.damage_limit import DamageLimit
from planner.models.file_task import FileTask
from planner.models.heater_set import HeaterSet, HeaterSetFit
from planner.models.heater_set_part import HeaterSetPart
from planner.models.injury_photo import InjuryPhoto
from planner.models.inspection import Inspection
from planner.models.isolation import Isolation
from planner.models.kept_answer import KeptAnswer
from planner.models.lever_question import LeverQuestion, LeverTrialRow
from planner.models.logged_cure import CureDecision, LoggedCure, LoggerColumns
from planner.models.machine import Machine
from planner.models.machine_position import MachinePosition
from planner.models.machine_reading import MachineReading
from planner.models.material import Material, MaterialLot, MaterialUse
from planner.models.notice import Notice
from planner.models.notice_choice import NoticeChoice
from planner.models.plan import Plan
from planner.models.plan_build import PlanBuild
from planner.models.plan_replay import PlanReplay, PlanReplayPart, ReplayedJob
from planner.models.position import Position, PositionKind
from planner.models.queue_view import QueueView
from planner.models.record_version import RecordVersion
from planner.models.removal_assumption import RemovalAssumption
from planner.models.roster_exception import RosterException
from planner.models.roster_pattern import PatternBreak, RosterPattern
from planner.models.route import Route, RouteStage
from planner.models.shift import Shift, ShiftBreak
from planner.models.site import Site
from planner.models.site_membership import SiteMembership
from planner.models.size_class import SizeClass
from planner.models.skill import Skill
from planner.models.stage_run import StageRun
from planner.models.tap_taken_back import TapTakenBack
from planner.models.technician import Technician
from planner.models.tyre import Tyre
from planner.models.tyre_delivery import TyreDelivery
from planner.models.tyre_fitting import TyreFitting
from planner.models.tyre_follow import TyreFollow
from planner.models.tyre_watch import TyreWatch
from planner.models.user import User
from planner.models.user_preference import UserPreference
from planner.models.webhook import TyreAlarm, Webhook, WebhookDelivery
from planner.models.work_order import WorkOrder
from planner.models.zone_cure import ZoneCure

__all__ = [
    "ApiToken",
    "AuditEvent",
    "CalendarFeed",
    "Closure",
    "CostApproval",
    "CostAsset",
    "CostAssumption",
    "CostOutcome",
    "CostPeriod",
    "CostPrice",
    "CostRate",
    "CostRepair",
    "CostStock",
    "CostUse",
    "CostVariance",
    "CureChartLine",
    "CureDecision",
    "CureFigure",
    "CureLimitRow",
    "CureLogUpload",
    "CureReading",
    "Damage",
    "DamageLimit",
    "FileTask",
    "HeaterSet",
    "HeaterSetFit",
    "HeaterSetPart",
    "InjuryPhoto",
    "Inspection",
    "Isolation",
    "KeptAnswer",
    "LeverQuestion",
    "LeverTrialRow",
    "LoggedCure",
    "LoggerColumns",
    "Machine",
    "MachinePosition",
    "MachineReading",
    "Material",
    "MaterialLot",
    "MaterialUse",
    "Notice",
    "NoticeChoice",
    "PatternBreak",
    "Plan",
    "PlanBuild",
    "PlanReplay",
    "PlanReplayPart",
    "Position",
    "PositionKind",
    "QueueView",
    "RecordVersion",
    "RemovalAssumption",
    "ReplayedJob",
    "RosterException",
    "RosterPattern",
    "Route",
    "RouteStage",
    "Shift",
    "ShiftBreak",
    "Site",
    "SiteMembership",
    "SizeClass",
    "Skill",
    "StageRun",
    "TapTakenBack",
    "Technician",
    "Tyre",
    "TyreAlarm",
    "TyreDelivery",
    "TyreFitting",
    "TyreFollow",
    "TyreWatch",
    "User",
    "UserPreference",
    "Webhook",
    "WebhookDelivery",
    "WorkOrder",
    "ZoneCure",
]
