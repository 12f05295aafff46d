"""The review that finds what editors miss before print: each finding with why, how sure, and a fix."""

from reformulate.recipes.review.review import review
from reformulate.recipes.review.values import LIKELY, SURE, Finding, Fix, Kind

__all__ = ["LIKELY", "SURE", "Finding", "Fix", "Kind", "review"]
