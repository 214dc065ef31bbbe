"""What to look out for while a part is wound anew, as it stands in resources/cautions.json."""

import json
from functools import cache

from resources.files import read_text


@cache
def rewind_cautions() -> tuple[tuple[str, str], ...]:
    """What each is about, and what to do or know."""
    return tuple((c["about"], c["text"]) for c in json.loads(read_text("cautions.json"))["rewinding"])
