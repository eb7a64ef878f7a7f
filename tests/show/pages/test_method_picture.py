"""What comes out is drawn over what was wanted."""

from xml.etree import ElementTree

from tests.show.pages.examples import plan

from ovolo.predict.methods.compare import compare
from ovolo.show.pages.method_picture import shape_picture
from ovolo.show.words.methods import methods_view


def test_each_way_has_a_picture() -> None:
    view = methods_view(plan(), compare(plan()))
    for card in view.cards:
        root = ElementTree.fromstring(shape_picture(view, card))
        classes = [e.attrib.get("class") for e in root]
        assert "edge" in classes
        assert ("comes-out" in classes) == (len(card.shape) > 1)
        assert card.name in (root[0].text or "")
