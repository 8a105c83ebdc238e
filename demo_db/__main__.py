"""Builds the demo's sheets anew: python -m demo_db --seed 27 --out FOLDER."""

from __future__ import annotations

import argparse
from pathlib import Path

from demo_db.builder import SHIPPED_SEED, build
from demo_db.sheets import write


def main() -> None:
    """Parses the options, builds, writes."""
    parser = argparse.ArgumentParser(prog="python -m demo_db", description=__doc__)
    parser.add_argument("--seed", type=int, default=SHIPPED_SEED)
    parser.add_argument("--out", type=Path, required=True, metavar="FOLDER")
    said = parser.parse_args()
    demo = build(said.seed)
    write(demo, said.out)
    for unit, truth in demo.truth.items():
        print(f"{unit}: {truth.expected_minutes:.0f} minutes to come, {truth.realised_minutes:.0f} realised")


if __name__ == "__main__":
    main()
