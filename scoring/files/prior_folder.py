"""Read what other plants say from a folder: of several plants, or of one that was learned from."""

from pathlib import Path

import numpy as np
import pandas as pd

from scoring.errors import FixableError
from scoring.files.learned_folder import LEARNED, MANIFEST, KeptLearning, read_learned
from scoring.files.plants_folder import (
    PLANTS,
    KeptPlants,
    read_plants,
    share_from_plain,
    share_to_plain,
)
from scoring.learning.other_plants import KnownPlant, OtherPlants
from scoring.learning.plant_share import share_of

LEARN_ANEW = "learn anew: mount-risk learn FLEET FLEET --as-of DATE --out NEW_FOLDER"


def read_prior(folder: Path, as_of: pd.Timestamp) -> KeptPlants:
    """Read what other plants say, trusting nothing in the files.

    Parameters
    ----------
    folder : Path
        As ``mount-risk learn`` wrote it, of several fleets or of one.
    as_of : Timestamp
        The day as of which it is to be used.

    Returns
    -------
    KeptPlants

    Raises
    ------
    FixableError
        If it is not such a folder, was damaged, is of another handbook, was learned after
        ``as_of``, or if nothing was learned.
    """
    if (folder / PLANTS).exists() or not (folder / MANIFEST).exists():
        try:
            kept = _read(folder)
        except FixableError as error:
            raise FixableError(f"{error}. What to do: {LEARN_ANEW}") from None
    else:
        kept = _of_one(folder, read_learned(folder, as_of))
    if kept.as_of > as_of.normalize():
        raise FixableError(
            f"{folder} was learned as of {kept.as_of.date()}, after the day asked for, "
            f"{as_of.date()}: it knows what happened since. Give --as-of {kept.as_of.date()} or "
            f"later, or learn as of that day: mount-risk learn FLEET FLEET --as-of {as_of.date()} "
            "--out NEW_FOLDER"
        )
    if not any(plant.shares for plant in kept.others.plants):
        raise FixableError(
            f"{folder} rests on no failure and no time for which failures were kept: it says "
            f"nothing of other plants. {LEARN_ANEW.capitalize()}"
        )
    return kept


def _read(folder: Path) -> KeptPlants:
    if not folder.is_dir():
        raise FixableError(f"there is no folder {folder}")
    if not (folder / PLANTS).exists():
        raise FixableError(f"there is neither {PLANTS} nor {LEARNED} with {MANIFEST} in {folder}")
    return read_plants(folder)


def _of_one(folder: Path, kept: KeptLearning) -> KeptPlants:
    """Return what the failures of the one plant of a learned folder say."""
    where = str(folder / LEARNED)
    try:
        shares = {
            mode: share_from_plain(mode, where, share_to_plain(share_of(basis.learned)))
            for mode, basis in kept.learning.basis.items()
            if basis.learned is not None and not basis.learned.by_others_alone
        }
    except np.linalg.LinAlgError:
        raise FixableError(
            f"{where} leaves no doubt of a coefficient, which no failures do. "
            f"What to do: {LEARN_ANEW}"
        ) from None
    records = kept.records
    plant = KnownPlant(records.sha256, records.units, records.failures, shares)
    return KeptPlants(kept.learning.as_of, kept.made_with, OtherPlants((plant,)))
