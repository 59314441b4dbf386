# SPDX-License-Identifier: GPL-3.0-or-later
"""The model of docs/method.md, 'What the coupler takes away', integrated by brute force with numpy and scipy.

A second opinion on Source/Metrology/CorrectionFit: written from the equations alone, on plain grids of the correction,
with scipy's normal distribution. Units: dB; u are standard uncertainties."""

import numpy as np
from scipy.special import log_ndtr, logsumexp
from scipy.stats import cauchy
from scipy.stats import t as student

COVERAGE = 0.9545
LOOSENESS = (0.005, 2.0)
ERROR_PER_SCATTER = (0.3, 8.0)
LOG_PRIOR_OF_SIGN = np.log([0.2, 0.4, 0.4])  # any, high, low
OWN_PRIOR, OWN_ERROR = 0.2, (0.1, 2.0)  # q, and f in dB
SHARED_DEGREES = 3  # nu
OUTSIDE_PRIOR, OUTSIDE_SPREAD = 0.05, 3.0  # eps, and a Cauchy density's half-width in tolerances


def midpoints(low, high, count):
    """Middles of `count` cells, equal in the logarithm."""
    edge = np.linspace(np.log(low), np.log(high), count + 1)
    return np.exp(0.5 * (edge[1:] + edge[:-1]))


def log_normal(x, variance):
    return -0.5 * x * x / variance - 0.5 * np.log(2.0 * np.pi * variance)


def fitting(c, says, n, s, u_through, kappas=40, scales=80, owns=24):
    """log p(kappa, sign, c) of one fitting, its looseness integrated out, and the log of its part q own(c)."""
    loose = midpoints(*LOOSENESS, scales)
    log_weight = -(n - 1) * np.log(loose) - (n - 1) * s * s / (2.0 * loose**2)
    log_weight -= logsumexp(log_weight)  # of l, given s
    keep = log_weight > log_weight.max() - 40.0
    loose, log_weight = loose[keep][:, None], log_weight[keep][:, None]
    v = loose**2 / n + u_through**2
    x = says - c[None, :]
    own = [logsumexp(log_weight + log_normal(x, v + f * f), axis=0) for f in midpoints(*OWN_ERROR, owns)]
    own = np.log(OWN_PRIOR / owns) + logsumexp(own, axis=0)
    out = np.empty((kappas, 3, len(c)))
    for i, kappa in enumerate(midpoints(*ERROR_PER_SCATTER, kappas)):
        t = kappa * loose
        whole = v + t * t
        base = log_weight + log_normal(x, whole)
        z = x * t / np.sqrt(v * whole)
        out[i, 0] = logsumexp(base, axis=0)
        out[i, 1] = logsumexp(base + np.log(2.0) + log_ndtr(z), axis=0)
        out[i, 2] = logsumexp(base + np.log(2.0) + log_ndtr(-z), axis=0)
    return np.logaddexp(np.log(1.0 - OWN_PRIOR) + out, own), own


def earphone(c, says, tolerance, u):
    """log p(c) of one earphone: within its rating, a rectangle blurred by u, or anywhere near; and the latter's part."""
    x = says - c
    if not tolerance:
        inside = log_normal(x, u * u)
    else:
        far, near = (np.abs(x) - tolerance) / u, (np.abs(x) + tolerance) / u
        inside = log_ndtr(-far) + np.log1p(-np.exp(np.minimum(log_ndtr(-near) - log_ndtr(-far), -1e-300)))
        inside -= np.log(2 * tolerance)
    spread = OUTSIDE_SPREAD * max(tolerance or 0.0, 2.0 * u)
    outside = np.log(OUTSIDE_PRIOR) + cauchy.logpdf(x / spread) - np.log(spread)
    return np.logaddexp(np.log(1.0 - OUTSIDE_PRIOR) + inside, outside), outside


def cells(c):
    """Weights of the trapezoidal rule."""
    w = np.empty_like(c)
    w[1:-1] = 0.5 * (c[2:] - c[:-2])
    w[0], w[-1] = 0.5 * (c[1] - c[0]), 0.5 * (c[-1] - c[-2])
    return w


def widener(c, u):
    """Matrix that convolves with a normal density of deviation u."""
    if u <= 0.0:
        return None
    kernel = np.exp(-0.5 * ((c[:, None] - c[None, :]) / u) ** 2) * cells(c)[None, :]
    return kernel / kernel.sum(axis=1, keepdims=True)


def student_widener(c, u):
    """Matrix that convolves with Student's t of the scale u."""
    if u <= 0.0:
        return None
    kernel = student.pdf((c[:, None] - c[None, :]) / u, SHARED_DEGREES) * cells(c)[None, :]
    return kernel / kernel.sum(axis=1, keepdims=True)  # where points stand wider than u, nothing is widened


def widened(log_f, kernel):
    if kernel is None:
        return log_f
    top = log_f.max()
    with np.errstate(divide="ignore"):
        return top + np.log(kernel @ np.exp(log_f - top))


def summary(c, log_p):
    w = cells(c)
    p = np.exp(log_p - log_p.max())
    p /= np.sum(p * w)
    mean = np.sum(c * p * w)
    deviation = np.sqrt(np.sum((c - mean) ** 2 * p * w))
    steps = 0.5 * (p[1:] + p[:-1]) * np.diff(c)
    distribution = np.concatenate([[0.0], np.cumsum(steps)])
    distribution /= distribution[-1]
    tail = 0.5 * (1.0 - COVERAGE)
    low, high = np.interp([tail, 1.0 - tail], distribution, c)
    return {"mean": mean, "u": deviation, "low": low, "high": high}


def grid(fittings, earphones):
    """Fine where anything is narrow, coarse in the tails."""
    places = [f[0] for f in fittings] + [e[0] for e in earphones]
    low, high = min(places) - 1.5, max(places) + 1.5
    fine = np.arange(low, high, max(0.006, (high - low) / 700))
    # Without earphones the tails are long, and ends of intervals lie in them.
    tail = np.geomspace(0.02, 80.0, 120 if earphones else 500)
    return np.concatenate([low - tail[::-1], fine, fine[-1] + tail])


def fit(fittings, earphones, u_through, u_shared, u_seating):
    """`fittings`: (says, n, s); `earphones`: (says, tolerance, u).

    Result with 'without', kappa and sign, and the probability of each fitting's own error and of each earphone's lying
    outside its rating."""
    c = grid(fittings, earphones)
    shared, seating = student_widener(c, u_shared), widener(c, u_seating)
    parts, owns = zip(*[fitting(c, *f, u_through) for f in fittings]) if fittings else ((), ())
    heard, outsides = zip(*[earphone(c, *e) for e in earphones]) if earphones else ((), ())

    def log_fittings(without=None):
        chosen = [p for i, p in enumerate(parts) if i != without]
        if not chosen:
            return np.zeros_like(c)
        joint = sum(chosen) + LOG_PRIOR_OF_SIGN[None, :, None]
        return widened(logsumexp(joint, axis=(0, 1)), shared)

    def log_earphones(without=None):
        chosen = [h for i, h in enumerate(heard) if i != without]
        return widened(sum(chosen), seating) if chosen else np.zeros_like(c)

    all_fittings, all_earphones = log_fittings(), log_earphones()
    result = summary(c, all_fittings + all_earphones)
    several = len(parts) + len(heard) > 1
    result["without"] = [summary(c, log_fittings(i) + all_earphones)["mean"] if several else None
                         for i in range(len(parts))]
    result["without"] += [summary(c, all_fittings + log_earphones(i))["mean"] if several else None
                          for i in range(len(heard))]
    before = widened(all_fittings, seating) + sum(heard) + np.log(cells(c))
    result["outside"] = [float(np.exp(logsumexp(before + o - h) - logsumexp(before))) for h, o in zip(heard, outsides)]
    if parts:
        joint = sum(parts) + LOG_PRIOR_OF_SIGN[None, :, None] + widened(all_earphones, shared) + np.log(cells(c))
        result["own"] = [float(np.exp(logsumexp(joint + np.minimum(own - part, 0.0)) - logsumexp(joint)))
                         for part, own in zip(parts, owns)]
        share = np.exp(joint - joint.max()).sum(axis=2)
        share /= share.sum()
        result["kappa"] = float(share.sum(axis=1) @ midpoints(*ERROR_PER_SCATTER, share.shape[0]))
        result["sign"] = share.sum(axis=0)
    return result
