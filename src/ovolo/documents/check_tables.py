"""The tables of a job that Check reads: what figures may be off by, and what there is to measure with."""

from typing import Literal

from pydantic import Field

from ovolo.documents.job_fields import NotNegative, Positive, Table, Text
from ovolo.shop.instruments import Instrument
from ovolo.shop.setting_errors import SettingErrors

__all__ = ["BothSlides", "ErrorsTable", "MeasureTable", "errors_of", "instrument_of"]


class BothSlides(Table):
    """Standard uncertainties of both slides, in travel."""

    cross: NotNegative | None = Field(None, description="of the cross slide, as travel: half of a diameter")
    saddle: NotNegative | None = Field(None, description="of the saddle")


class ErrorsTable(Table):
    """What may be off by how much: standard uncertainties (common practice, no source, where left out)."""

    setting: BothSlides = Field(
        default_factory=BothSlides,
        description="of bringing a slide to its figure; 0.005 and 0.01 mm if left out",
        examples=[{"cross": 0.005, "saddle": 0.01}],
    )
    touching: BothSlides = Field(
        default_factory=BothSlides,
        description="of touching off, once for the whole run; 0.01 and 0.02 mm if left out",
        examples=[{"cross": 0.01, "saddle": 0.02}],
    )
    height: NotNegative | None = Field(None, description="of the tool's centre height; 0.05 mm if left out")
    nose: NotNegative | None = Field(
        None, description="of a nose radius that the tool gives no uncertainty for; 0.02 mm if left out"
    )


class MeasureTable(Table):
    """Something to measure with."""

    name: Text = Field(description="what the shop calls it", examples=["caliper"])
    kind: Literal["caliper", "micrometer", "depth micrometer", "indicator", "gauge"] = Field(
        description="what it is; the uncertainties below have usual values for each", examples=["caliper"]
    )
    over: NotNegative | None = Field(
        None,
        description="how much of the axis its jaws or anvils cover; of an indicator the diameter of its ball; 0 for "
        "knife edges; usual for its kind if left out",
    )
    u: Positive | None = Field(None, description="standard uncertainty of what it reads, diameters for a caliper")
    u_z: NotNegative | None = Field(None, description="standard uncertainty of the place along the axis")


def errors_of(table: ErrorsTable) -> SettingErrors:
    """The uncertainties of a job, mm, with the usual ones where it gives none."""
    usual = SettingErrors()
    given = {
        "setting_cross": table.setting.cross,
        "setting_saddle": table.setting.saddle,
        "touching_cross": table.touching.cross,
        "touching_saddle": table.touching.saddle,
        "height": table.height,
        "nose": table.nose,
    }
    return SettingErrors(**{name: getattr(usual, name) if value is None else value for name, value in given.items()})


def instrument_of(table: MeasureTable) -> Instrument:
    """What a job owns to measure with, with the usual uncertainties of its kind where it gives none."""
    return Instrument.usual(table.kind, table.name, over=table.over, u=table.u, u_z=table.u_z)
