"""Does a folder come into the records whole, or not at all?"""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from turnscrew.web.records.models import Batch, Description, Job, Part
from web.conftest import SALLOWMERE
from web.counter_case import signed_in

SPOILT = {
    "pellorin-l240.device.yaml": (b"device: {name: 5\n", "text"),
    "tavistle-v80.faults.yaml": (b"\xe9t\xe9: 1\n", "text in UTF-8"),
}


@pytest.fixture
def files() -> dict[str, bytes]:
    return {
        path.name: path.read_bytes()
        for path in sorted(SALLOWMERE.iterdir())
        if path.is_file() and path.name != "columns.yaml"
    }


def sent(client, files: dict[str, bytes]):
    chosen = [SimpleUploadedFile(name, content) for name, content in files.items()]
    return client.post("/batches/", {"act": "load", "chosen": chosen})


def test_a_spoilt_description_leaves_nothing_behind(files, lead, clock) -> None:
    client = signed_in(lead)
    assert set(SPOILT) <= set(files)

    refused = sent(client, files | {name: text for name, (text, _) in SPOILT.items()})

    told = refused.content.decode()
    assert 422 == refused.status_code
    for name, (_, words) in SPOILT.items():
        assert name in told
        assert words in told
    assert not Batch.objects.exists()
    assert not Job.objects.exists()
    assert not Part.objects.exists()
    assert 302 == sent(client, files).status_code
    assert 60 == Job.objects.filter(batch__closed_on=None).count()
    assert 3 == Description.objects.count()


def test_texts_of_another_encoding_are_read(files, lead, clock) -> None:
    for name in ("terms.yaml", "tavistle-v80.device.yaml"):
        files[name] = files[name].decode().encode("utf-16")

    assert 302 == sent(signed_in(lead), files).status_code
    assert 3 == Description.objects.count()
