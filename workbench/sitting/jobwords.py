"""What the shop writes of a part and its visit in words of its own, as a form has it."""

from dataclasses import dataclass, replace

from workbench.records import Job, Unit


@dataclass(frozen=True, slots=True)
class JobWords:
    """`label`: what it came off, whose it is. The rest is of this visit: as the customer said it, what was seen of it,
    what was agreed to and how, what was found and done.
    """

    label: str
    complaint: str = ""
    seen: str = ""
    approved: str = ""
    found: str = ""
    done: str = ""

    @property
    def trouble(self) -> str:
        """Why it can't be kept; empty where it can."""
        return "" if self.label.strip() else "Say what the part came off, or whose it is: nothing was changed."


def words_of(unit: Unit, job: Job) -> JobWords:
    return JobWords(unit.label, job.complaint, job.seen, job.approved, job.found, job.done)


def labelled(unit: Unit, words: JobWords) -> Unit:
    return replace(unit, label=words.label.strip())


def written(job: Job, words: JobWords) -> Job:
    return replace(
        job,
        complaint=words.complaint.strip(),
        seen=words.seen.strip(),
        approved=words.approved.strip(),
        found=words.found.strip(),
        done=words.done.strip(),
    )
