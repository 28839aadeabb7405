"""The one exception of the package: something in the maker's document or request is not right."""


class DesignError(ValueError):
    """What is wrong, and where in her document; ``str()`` is one sentence for the maker.

    ``where`` is a path such as ``layers[2].params.rows`` (or an option such as ``--around``),
    ``what`` says what would be right.
    """

    def __init__(self, where: str, what: str) -> None:
        super().__init__(f"{where}: {what}" if where else what)
        self.where = where
        self.what = what
