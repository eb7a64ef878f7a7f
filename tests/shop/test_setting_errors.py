"""What figures may be off by."""

from ovolo.shop.setting_errors import SettingErrors


def test_the_usual_errors_are_those_of_the_job_document() -> None:
    usual = SettingErrors()
    assert (usual.setting_cross, usual.setting_saddle) == (0.005, 0.01)
    assert (usual.touching_cross, usual.touching_saddle, usual.height, usual.nose) == (0.01, 0.02, 0.05, 0.02)
