"""Where the samples lie."""

from pathlib import Path

SAMPLES = Path(__file__).parents[1] / "sample_boms"
TINY, FENLARK = SAMPLES / "tiny_glider_tail", SAMPLES / "fenlark"
