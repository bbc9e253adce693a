"""What a packed file would unfold to, looked up before anything is unfolded."""

import io
import zipfile

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _

MOST_PARTS = 2000


def refuse_bomb(raw: bytes, *, most_bytes: int) -> None:
    """Raise InvalidValueError where the parts are too many, or unfold to more than `most_bytes`.

    The sizes are those that the file tells of itself; one that lies is cut off and refused by its checksum.
    """
    with zipfile.ZipFile(io.BytesIO(raw)) as packed:
        parts = packed.infolist()
    if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > most_bytes:
        raise InvalidValueError(
            _("the workbook unfolds to more than {most_bytes} MB: split it", most_bytes=most_bytes // 10**6)
        )
