"""The studio on the home network: which addresses this machine has there, and the second listener.

In: the port the studio has on this machine.  Out: sockets, and a server that ends with the first.
"""

import contextlib
import socket
from collections.abc import Iterator

import uvicorn

from polestitch.errors import DesignError
from polestitch.studio.certificates import is_home

NO_NETWORK = "this machine is in no home network; connect it and start again, or name its address: --lan-address"


def home_addresses() -> tuple[str, ...]:
    """Addresses of this machine in home networks, the one it would answer from first."""
    found: dict[str, None] = {}
    for there in ("192.168.255.255", "10.255.255.255", "172.31.255.255"):
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, contextlib.suppress(OSError):
            probe.connect((there, 9))  # nothing is sent: the system only says which way it would go
            found[probe.getsockname()[0]] = None
    with contextlib.suppress(OSError):
        found |= {str(info[4][0]): None for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)}
    return tuple(address for address in found if is_home(address) and not address.startswith("127."))


def listening_at(addresses: tuple[str, ...], port: int) -> list[socket.socket]:
    """A socket at each address; ``DesignError`` where there is none, or the port is taken."""
    strange = next((address for address in addresses if not is_home(address)), None)
    if strange is not None:
        raise DesignError("--lan-address", f"{strange[:40]} is no address of a home network, such as 192.168.1.20")
    if not addresses:
        raise DesignError("--lan", NO_NETWORK)
    made: list[socket.socket] = []
    for address in addresses:
        one = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        made.append(one)
        try:
            one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            one.bind((address, port))
            one.listen(128)
        except OSError:
            for each in made:
                each.close()
            what = f"{address}:{port} cannot be listened at; name another --port, or another --lan-address"
            raise DesignError("--lan", what) from None
    return made


class QuietServer(uvicorn.Server):
    """A server that leaves signals to the first one."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """None."""
        yield
