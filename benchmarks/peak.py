"""How much memory has this process held at most?"""

import sys

_MIB = 1024 * 1024


def peak_mib() -> float:
    """
    Give the peak of memory of this process.

    Returns
    -------
    float
        Resident memory. [MiB]
    """
    if sys.platform == "win32":
        import psutil  # noqa: PLC0415 - there alone

        return psutil.Process().memory_info().peak_wset / _MIB
    import resource  # noqa: PLC0415 - not on Windows

    held = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    # macOS counts bytes, Linux KiB (their manual pages of getrusage, from memory).
    return held / (_MIB if sys.platform == "darwin" else 1024)
