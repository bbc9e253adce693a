"""What each move between states is called."""

from collections.abc import Mapping

from planner.domain.sentences import Sentence, _

MOVE_WORDS: Mapping[str, Sentence] = {
    "call_off": _("call off"),
    "cancel": _("cancel"),
    "clear": _("clear"),
    "complete": _("complete"),
    "decide_to_repair": _("decide to repair"),
    "demount": _("demount"),
    "drop": _("drop"),
    "fail": _("fail"),
    "finish": _("finish"),
    "fit": _("fit"),
    "hold": _("hold"),
    "publish": _("publish"),
    "put_back": _("put back"),
    "quarantine": _("quarantine"),
    "reject": _("reject"),
    "release": _("release"),
    "replace": _("replace"),
    "run": _("run"),
    "scrap": _("scrap"),
    "start": _("start"),
    "stop": _("stop"),
    "supersede": _("supersede"),
    "take_back_end": _("take back end"),
    "take_back_start": _("take back start"),
    "take_out": _("take out"),
    "take_out_of_service": _("take out of service"),
}
