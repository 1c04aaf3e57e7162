"""Which structure lines an airframe has, by its options and its serial number."""

from sample_parts.model import Line


def is_fitted(line: Line, options: str, serial: str) -> bool:
    """Whether an airframe with these options and this serial has the line."""
    chosen = set(options.split())
    return (
        set(line.with_option.split()) <= chosen
        and not set(line.without_option.split()) & chosen
        and (not line.from_serial or _number(serial) >= _number(line.from_serial))
        and (not line.to_serial or _number(serial) <= _number(line.to_serial))
    )


def _number(serial: str) -> int:
    """The number at the end of a serial."""
    return int(serial.rpartition("-")[2])
