"""A digest of everything that goes out about a record: when it differs, the record has changed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.stages.export import Batch

DIGITS = 24  # of 32 hexadecimal ones
ID = "occurrenceID"
# The day of a record's last change, and what is made of the record's own id or name.
SAYS_NO_MORE = frozenset({
    ID, "modified", "organismName", "measurementID", "resourceRelationshipID", "resourceID",
    "relationshipEstablishedDate",
})  # fmt: skip
Hashes = npt.NDArray[np.uint64]


def digests(batch: Batch) -> pd.Series:
    """By occurrenceID: the digest of a record with its measures and links; the other records have no part in it.

    Every different text is hashed once (BLAKE2b, 128 bits), and a record's hashes are added up.
    """
    core = batch.occurrence
    total = np.zeros((2, len(core)), dtype="<u8")
    for name in core.columns:
        if name not in SAYS_NO_MORE:
            codes, unique = pd.factorize(core[name])
            total += _hashes(f"{name}\x1f{text}" for text in unique)[:, codes]
    for table in (batch.measurement_or_fact, batch.resource_relationship):
        records = pd.factorize(pd.concat([core[ID], table[ID]]))[0][len(core) :]  # an id stands once in core
        for half, hashes in zip(total, _of_lines(table), strict=True):
            np.add.at(half, records, hashes)
    digits = np.ascontiguousarray(total.T).tobytes().hex()
    return pd.Series(
        [digits[at : at + DIGITS] for at in range(0, len(digits), 32)], index=core[ID].to_numpy(), dtype="str"
    )


def _of_lines(table: pd.DataFrame) -> Hashes:
    """The hash of each line of an extension as a whole."""
    line, texts = np.zeros(len(table), dtype="int64"), [""]
    for name in table.columns:
        if name not in SAYS_NO_MORE:
            codes, unique = pd.factorize(table[name])
            line, mixes = pd.factorize(line * len(unique) + codes)
            pairs = [divmod(mix, len(unique)) for mix in mixes.tolist()]
            texts = [f"{texts[before]}\x1f{name}\x1f{unique[own]}" for before, own in pairs]
    return _hashes(texts)[:, line]


def _hashes(texts: Iterable[str]) -> Hashes:
    hashed = b"".join([hashlib.blake2b(text.encode(), digest_size=16).digest() for text in texts])
    return np.frombuffer(hashed, dtype="<u8").reshape(-1, 2).T
