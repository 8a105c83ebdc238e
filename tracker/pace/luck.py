"""Random numbers that belong to names, so that nobody's luck hangs on who else is asked about."""

from __future__ import annotations

from hashlib import blake2b
from typing import Any

import numpy as np
from numpy.random.bit_generator import ISeedSequence
from numpy.typing import NDArray

_ROOT_BYTES = 16


class Luck:
    """Streams of random numbers by name, all from one number drawn of the generator that is given.

    The same generator state and the same name give the same stream, whichever other names are asked
    for and in whatever order. So a unit added or another order of work leaves every other line's draws
    as they were, and two plans differ only by the plan (common random numbers).
    """

    def __init__(self, rng: np.random.Generator) -> None:
        self._root = rng.bytes(_ROOT_BYTES)

    def of(self, *names: str) -> np.random.Generator:
        """The stream of a name; a name may have several parts."""
        seed: Any = _Seed(self._root, "\0".join(names))
        return np.random.Generator(np.random.SFC64(seed))


class _Seed(ISeedSequence):
    """The state of a generator as the digest of a name, keyed with the root: as random as can be."""

    def __init__(self, root: bytes, name: str) -> None:
        self._root, self._name = root, name

    def generate_state(self, n_words: int, dtype: Any = np.uint32) -> NDArray[Any]:
        """So many words of the digest."""
        size = n_words * np.dtype(dtype).itemsize
        digest = blake2b(self._name.encode(), digest_size=size, key=self._root).digest()
        return np.frombuffer(digest, dtype=dtype)
