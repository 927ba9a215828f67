"""Verdicts of the independent derivation: a value against its advised figure and its limit."""

import math


def ceiling(value, advised, limit):
    """At most advised is ok, at most limit marginal."""
    verdict = "ok" if value <= advised else "marginal" if value <= limit else "fails"
    return {"value": value, "advised": advised, "limit": limit, "verdict": verdict, "utilization": value / limit}


def floor(value, advised, limit):
    """At least advised is ok, at least limit marginal."""
    verdict = "ok" if value >= advised else "marginal" if value >= limit else "fails"
    use = limit / value if value > 0.0 else math.inf
    return {"value": value, "advised": advised, "limit": limit, "verdict": verdict, "utilization": use}


def factor_limits(job, name, advised, limit):
    own = job.get("limits." + name)
    return (advised, limit) if own is None else (own / 0.9, own)
