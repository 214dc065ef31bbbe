"""Writes the worked examples anew: `python -m tests.exchange.rewind.make`. Look at what changed."""

import json
from pathlib import Path

from tests.exchange.rewind.asks import answer

HERE = Path(__file__).parent


def main() -> None:
    for file in sorted(HERE.glob("*.json")):
        document = json.loads(file.read_text(encoding="utf-8"))
        document["answer"] = answer(document["ask"])
        file.write_text(json.dumps(document, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
