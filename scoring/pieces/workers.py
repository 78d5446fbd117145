"""Who works on the pieces: this process, some beside it, or a Dask cluster; one call for all."""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

from scoring.errors import FixableError

Done = TypeVar("Done")
Work = Callable[[Callable[..., Done], Iterable[tuple[Any, ...]]], list[Done]]
"""Calls a function once for each tuple of arguments; what it returned, in the same order."""


@contextmanager
def workers(processes: int = 1, cluster: str = "") -> Iterator[Work[Any]]:
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
    callable

    Raises
    ------
    FixableError
        If the cluster cannot be reached, or what it needs is not installed.
    """
    from joblib import Parallel, delayed, parallel_config  # noqa: PLC0415 - who ranks at once
    from joblib.externals.loky import get_reusable_executor  # noqa: PLC0415 - as above

    def work(task: Callable[..., Any], asked: Iterable[tuple[Any, ...]]) -> list[Any]:
        done: list[Any] = parallel(delayed(task)(*one) for one in asked)
        return done

    if not cluster:
        parallel = Parallel(n_jobs=processes)
        try:
            yield work
        finally:
            if processes > 1:
                get_reusable_executor().shutdown()  # else they wait, and hold their memory
        return
    with _client_of(cluster), parallel_config(backend="dask"):
        parallel = Parallel(n_jobs=-1, batch_size=1)
        yield work


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
