"""Who works on the pieces: this process, some beside it, or a Dask cluster; one call for all."""

import warnings
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

from scoring.errors import FixableError

Done = TypeVar("Done")


class Work:
    """Calls a function once for each piece.

    Parameters
    ----------
    parallel : joblib.Parallel
        Who calls it.
    rests : callable
        Lets processes go that wait on this machine.
    """

    def __init__(self, parallel: Any, rests: Callable[[], None]) -> None:  # noqa: ANN401 - untyped
        self._parallel, self.rest = parallel, rests
        """Let waiting processes go, and the memory that they hold; the next call begins others."""

    def __call__(self, task: Callable[..., Done], asked: Iterable[tuple[Any, ...]]) -> list[Done]:
        """Call a function once for each tuple of arguments; what it returned, in the same order."""
        from joblib import delayed  # noqa: PLC0415 - few rank in pieces

        done: list[Done] = self._parallel(delayed(task)(*one) for one in asked)
        return done


@contextmanager
def workers(processes: int = 1, cluster: str = "") -> Iterator[Work]:
    """Give what works on pieces.

    Parameters
    ----------
    processes : int
        How many beside each other on this machine; 1: in this process.
    cluster : str
        Address of the scheduler of a Dask cluster, as ``tcp://10.0.0.1:8786``; empty: none. Its
        workers need this program, and the folder of the pieces under the same path. A piece whose
        worker is lost is begun anew by another.

    Yields
    ------
    Work

    Raises
    ------
    FixableError
        If the cluster cannot be reached, or what it needs is not installed.
    """
    from joblib import Parallel, parallel_config  # noqa: PLC0415 - few rank in pieces
    from joblib.externals.loky import get_reusable_executor  # noqa: PLC0415 - as above

    def rest() -> None:
        if processes > 1:
            get_reusable_executor().shutdown()

    if not cluster:
        with warnings.catch_warnings():
            # one that holds much is let go and another begun, which is no matter of the user's
            warnings.filterwarnings("ignore", "A worker stopped while", UserWarning)
            try:
                yield Work(Parallel(n_jobs=processes), rest)
            finally:
                rest()
        return
    with _client_of(cluster), parallel_config(backend="dask"):
        yield Work(Parallel(n_jobs=-1, batch_size=1), lambda: None)


def _client_of(cluster: str) -> Any:  # noqa: ANN401 - of a library that is not always there
    try:
        from distributed import Client  # noqa: PLC0415 - an extra that few need
    except ImportError:
        raise FixableError(
            "a cluster needs Dask: pip install 'mount-risk[cluster]', here and on its workers"
        ) from None
    try:
        return Client(cluster, timeout="10s", set_as_default=True)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as error:
        raise FixableError(
            f"there is no scheduler at {cluster} ({error}); give its address, as "
            "tcp://10.0.0.1:8786"
        ) from None
