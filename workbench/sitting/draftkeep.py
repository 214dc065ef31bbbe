"""What is worked on at a desk, kept at each step so that a pulled plug loses nothing."""

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Protocol
from uuid import UUID

from workbench.drafting.draft import Draft
from workbench.exchange.drafts import draft_from_json, draft_to_json
from workbench.records import KeptDraft, PatternRevision, new_id, now
from workbench.sitting.keeper import Failed
from workbench.stator.errors import FieldError

KIND = "pattern"


class Records(Protocol):
    def keep_draft(self, draft: KeptDraft, then: Any = None, failed: Failed | None = None) -> Any: ...

    def drop_draft(self, draft: KeptDraft, then: Any = None, failed: Failed | None = None) -> Any: ...


@dataclass(frozen=True, slots=True)
class Left:
    """What was left unfinished, and the revision that it began from, where there was one."""

    draft: Draft
    pattern_id: UUID | None = None
    revision_id: UUID | None = None


class DraftKeep:
    """One is on its way at a time, each from the version that is kept; the last state always comes through.

    `failed`: hears the sentence of what kept it from being kept; `told` that what was handed in last is safe.
    """

    def __init__(
        self, records: Records, kept: KeptDraft | None, failed: Callable[[str], None], *, kind: str = KIND,
        unkept: str = "What was drawn is not kept yet.", told: Callable[[], None] = lambda: None,
    ) -> None:  # fmt: skip
        """`kind`: which desk it lies on."""
        self._unkept = unkept
        self._records, self._kept, self._failed, self._kind, self._told = records, kept, failed, kind, told
        self._sent: KeptDraft | None = None
        self._waiting: tuple[str, Callable[[], str]] | None = None
        self.lost = False

    @property
    def busy(self) -> bool:
        """Whether anything is on its way, or waits for its turn."""
        return self._sent is not None

    @property
    def kept(self) -> KeptDraft | None:
        """As it is in the store."""
        return self._kept

    def keep(self, title: str, body: Callable[[], str]) -> None:
        """`body` is asked for when its turn has come, and not where a later state overtakes it."""
        if self._sent is not None:
            self._waiting = title, body
            return
        moment = now()
        sent = (
            KeptDraft(new_id(), self._kind, title, body(), moment, moment)
            if self._kept is None
            else replace(self._kept, title=title, body=body(), changed_at=moment)
        )
        self._sent = sent

        def then(kept: KeptDraft) -> None:
            if self._sent is not sent:
                return  # dropped meanwhile
            self._sent, self._kept, self.lost = None, kept, False
            waiting, self._waiting = self._waiting, None
            if waiting is not None:
                self.keep(*waiting)
            else:
                self._told()

        def failed(e: Exception) -> None:
            if self._sent is not sent:
                return
            self._sent, self.lost = None, True
            waiting, self._waiting = self._waiting, None
            if waiting is not None:
                self.keep(*waiting)
            else:
                self._failed(f"{self._unkept} {e}")

        self._records.keep_draft(sent, then, failed)

    def drop(self) -> None:
        """It is a record now, or nobody wants it. What is on its way is dropped behind itself."""
        gone = self._sent or self._kept
        self._sent = self._kept = self._waiting = None
        self.lost = False
        if gone is not None:
            self._records.drop_draft(gone, None, lambda e: self._failed(str(e)))


def body_of(draft: Draft, base: PatternRevision | None) -> str:
    began = None if base is None else {"pattern": str(base.pattern_id), "revision": str(base.id)}
    return json.dumps({"draft": draft_to_json(draft), "began": began}, ensure_ascii=False)


def left_in(kept: KeptDraft) -> Left:
    """Raises FieldError for a body that this program never wrote."""
    try:
        body = json.loads(kept.body)
        began = body["began"]
        ids = (None, None) if began is None else (UUID(began["pattern"]), UUID(began["revision"]))
        return Left(draft_from_json(body["draft"]), *ids)
    except FieldError:
        raise
    except (ValueError, KeyError, TypeError) as e:
        raise FieldError("draft", "what was kept of it can't be read") from e
