"""Two families of error: the user's, which say what to do next, and ours."""


class TyrewrightError(Exception):
    """Any error that Tyrewright raises on purpose."""


class UserError(TyrewrightError):
    """A fault of the input or of the request; its text tells the user what to do next."""


class InvalidValueError(UserError, ValueError):
    """A value that breaks a rule of the noun it was meant for; the message names the rule."""


class NotAllowedError(UserError):
    """The user may not do this here."""


class NotFoundError(UserError):
    """There is no such thing among those that the user may see."""


class ConflictError(UserError):
    """Somebody else changed the thing first; the text says who and what to do."""


class ChangedMeanwhileError(ConflictError):
    """The row is no longer the version that the user read."""


class InternalError(TyrewrightError):
    """A fault of Tyrewright itself: never the user's to mend."""
