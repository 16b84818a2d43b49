"""Our run without the gate, as a process of its own, to see what the gate costs.

python tests/bench/without_gate.py FOLDER
"""

import sys
from datetime import date
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

if __name__ == "__main__":
    from pipeline.flow import run

    run(Path(sys.argv[1]), date(2026, 11, 25), None)
