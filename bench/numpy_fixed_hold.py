"""A plain fixed hold in a few vectorised lines, as somebody would write it for a quick look: no bounce, no settle.

Prints flashes per second. The baseline that the full path is measured against.
"""
import sys
import time

import numpy as np

trials, flashes, hold_ms = 20_000, 16, 760.0
rng = np.random.default_rng(1)


def one_pass():
    """Makes left and right flashes of many bikes, holds them, and scores dropouts, release and overlap."""
    period = 60e3 / rng.uniform(60, 120, (trials, 1))
    duty = rng.uniform(0.30, 0.75, (trials, 1))
    half = flashes // 2
    on = duty * period * (1 + 0.01 * rng.standard_normal((trials, flashes)))
    dark = (1 - duty) * period * (1 + 0.01 * rng.standard_normal((trials, flashes)))
    rises = np.cumsum(on + dark, axis=1) - (on + dark)
    falls = rises + on
    cancel = rises[:, half - 1] + rng.uniform(0, 1, trials) * period[:, 0]
    falls[:, half - 1] = np.minimum(falls[:, half - 1], cancel)
    rises[:, half:] += (cancel + 75 - rises[:, half])[:, None]
    falls[:, half:] = rises[:, half:] + on[:, half:]
    gaps_left = rises[:, 1:half] - falls[:, : half - 1]
    gaps_right = rises[:, half + 1 :] - falls[:, half:-1]
    dropouts = np.count_nonzero(gaps_left > hold_ms) + np.count_nonzero(gaps_right > hold_ms)
    left_until = falls[:, half - 1] + hold_ms
    release = np.maximum(left_until - cancel, 0)
    overlap = np.maximum(left_until - rises[:, half], 0)
    return dropouts, release.mean(), np.percentile(overlap, 99)


one_pass()
best = float("inf")
for _ in range(int(sys.argv[1]) if len(sys.argv) > 1 else 5):
    start = time.perf_counter()
    one_pass()
    best = min(best, time.perf_counter() - start)
print(f"{trials * flashes / best:.0f}")
