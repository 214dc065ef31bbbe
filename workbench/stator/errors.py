"""Input that can't be used, with the field it stands in."""


class FieldError(ValueError):
    """`field` is the place, as in `meter.ranges[0].percent`; `sentence` says what is wrong with it."""

    def __init__(self, field: str, sentence: str) -> None:
        super().__init__(f"{field}: {sentence}")
        self.field = field
        self.sentence = sentence

    def within(self, parent: str) -> "FieldError":
        """The same error, seen from the thing that holds this one."""
        return type(self)(f"{parent}.{self.field}" if self.field else parent, self.sentence)
