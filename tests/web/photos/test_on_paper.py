"""Does the evidence show what was cleared, to be read, whatever file was lost?"""

import pytest

from turnscrew.core.photo.drawing import Mark, Mask
from turnscrew.web.records.photo_files import drawing_of, path_of
from turnscrew.web.records.queries.paper_beside import beside_of
from turnscrew.web.records.services import photos

pytestmark = pytest.mark.usefixtures("clock")


@pytest.fixture
def cleared(kept, lead, now):
    photo = kept()
    marks = [Mark("point", 50, 50, says="crack at the hinge"), Mark("point", 90, 90)]
    photos.draw(photo, marks, by=lead, now=now)
    photos.hide(photo, [Mask(0, 0, 25, 25)], by=lead, now=now)
    photo.refresh_from_db()
    photos.clear(photo, looked_at=drawing_of(photo), by=lead, now=now)
    return photo


def pictures(photo, now):
    return beside_of("evidence.pdf", photo.job.batch, now).pictures[photo.job.line]


def test_the_words_of_its_marks_stand_below_a_photo(cleared, now) -> None:
    [picture] = pictures(cleared, now)

    assert f"{cleared.caption or 'photo'}; crack at the hinge" == picture.says


def test_a_copy_whose_file_was_lost_is_made_anew_for_the_paper(cleared, now) -> None:
    before = pictures(cleared, now)
    path_of(cleared, "cleared").unlink()
    assert before == pictures(cleared, now)

    path_of(cleared, "shown").unlink()
    path_of(cleared, "original").unlink()
    assert () == pictures(cleared, now)
