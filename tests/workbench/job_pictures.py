"""The pictures of the whole job: how many, and the SHA-256 of their pixels, so that a test can check them."""

from __future__ import annotations

import hashlib
from collections.abc import Generator
from dataclasses import dataclass

from calculators.declare import (
    JOB,
    Calculator,
    NamedFile,
    Problem,
    Progress,
    Refused,
    Wanted,
    measure,
    whole_job,
    words,
)
from calculators.values import Pixels


@dataclass(frozen=True, kw_only=True)
class JobPicturesInputs:
    job: NamedFile | None = whole_job("Job", without="nothing is read.")


@dataclass(frozen=True, kw_only=True)
class JobPicturesOutputs:
    name: str | None = words("Name of the job")
    markings: int | None = measure("Markings", decimals=0)
    pictures: int | None = measure("Pictures", decimals=0)
    rgba_sha256: str | None = words("SHA-256 of all pixels, in the order of the names")


def job_pictures(inputs: JobPicturesInputs) -> Generator[Progress | Wanted, Pixels | None, JobPicturesOutputs]:
    """Return the number of pictures in a job, and the SHA-256 of the RGBA bytes of those with pixels."""
    # A page without a job needs none of this.
    from calculators.files.picture import PictureTrouble, decoded_picture
    from calculators.jobs.model import files_of
    from calculators.jobs.whole import read_whole

    if inputs.job is None:
        return JobPicturesOutputs(name=None, markings=None, pictures=None, rgba_sha256=None)
    saved = read_whole(inputs.job.data, inputs.job.name)
    found = sorted((file.name, hash) for hash, file in files_of(saved.job).items())
    digest, count = hashlib.sha256(), 0
    for name, hash in found:
        yield Progress(count / len(found), "Reading pictures")
        try:
            picture = yield from decoded_picture(name, saved.files[hash])
        except PictureTrouble as trouble:
            raise Refused(Problem("job", trouble.text, trouble.hint)) from None
        count += 1
        digest.update(picture.rgba or b"")
    return JobPicturesOutputs(
        name=saved.job.name, markings=len(saved.job.markings), pictures=count, rgba_sha256=digest.hexdigest()
    )


JOB_PICTURES = Calculator(
    id="job-pictures",
    title="Which pictures has the job?",
    summary="Reads the pictures of the whole job.",
    stage="artwork",
    about=JOB,
    inputs=JobPicturesInputs,
    outputs=JobPicturesOutputs,
    compute=job_pictures,
)
