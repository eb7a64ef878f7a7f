"""What the figures of a run may be off by."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class SettingErrors:
    """Standard uncertainties, mm of travel (common practice, no source).

    setting_*:  of bringing a slide to its figure, anew each time.
    touching_*: of touching off, once for the run.
    height:     of the tool's centre height. nose: of a nose radius.
    """

    setting_cross: float = 0.005
    setting_saddle: float = 0.01
    touching_cross: float = 0.01
    touching_saddle: float = 0.02
    height: float = 0.05
    nose: float = 0.02
