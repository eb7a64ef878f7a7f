"""Every file that is offered says what it is."""

from ovolo.app.drawings import FILES


def test_names_and_types_agree() -> None:
    kinds = {
        ".json": "json",
        ".csv": "csv",
        ".toml": "toml",
        ".svg": "svg",
        ".dxf": "dxf",
        ".pdf": "pdf",
        ".html": "html",
    }
    for name, (kind, _) in FILES.items():
        assert kinds[name[name.rindex(".") :]] in kind, name
