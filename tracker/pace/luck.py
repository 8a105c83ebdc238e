"""Random numbers that belong to names, so that nobody's luck hangs on who else is asked about."""

from __future__ import annotations

from hashlib import blake2b

import numpy as np

_BYTES = 8


class Luck:
    """Streams of random numbers by name, all from one number drawn of the generator that is given.

    The same generator state and the same name give the same stream, whichever other names are asked
    for and in whatever order. So a unit added or another order of work leaves every other line's draws
    as they were, and two plans differ only by the plan (common random numbers).
    """

    def __init__(self, rng: np.random.Generator) -> None:
        self._root = [int(word) for word in rng.integers(0, 2**32, 4, dtype=np.uint64)]

    def of(self, *names: str) -> np.random.Generator:
        """The stream of a name; a name may have several parts."""
        digest = blake2b("\0".join(names).encode(), digest_size=_BYTES).digest()
        seed = np.random.SeedSequence([*self._root, int.from_bytes(digest, "little")])
        return np.random.Generator(np.random.SFC64(seed))
