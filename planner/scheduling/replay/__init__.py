"""Odds: a plan replayed many times with durations that scatter, by the bay's own rules."""

from planner.scheduling.replay.odds import JobOdds, odds_for, odds_of
from planner.scheduling.replay.spread import Spread
from planner.scheduling.replay.tally import JobTally, Tally, replays_tally

__all__ = ["JobOdds", "JobTally", "Spread", "Tally", "odds_for", "odds_of", "replays_tally"]
