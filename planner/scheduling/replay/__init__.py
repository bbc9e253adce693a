"""Odds: a plan replayed many times with durations that scatter, by the bay's own rules."""

from planner.scheduling.replay.odds import JobOdds, odds_for
from planner.scheduling.replay.spread import Spread

__all__ = ["JobOdds", "Spread", "odds_for"]
