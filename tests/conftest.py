"""What every test starts from."""

from __future__ import annotations

import os

# The problems are small: threads of the linear algebra only get in each other's way, most of all when
# two test processes share two cores. It has to be said before numpy is first imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
