"""What uploads do to the server's memory: at made-up addresses, at given ones, when all is over.

Run by hand: ``python -m tests.bench.uploads [--files 12] [--sessions 8] [--rest 150]`` in the
project's folder. Linux only, for what it reads of processes. Files are of 20 MB. Printed: memory
before, after files at made-up addresses of one session, after files at given addresses of one and
of many sessions, and after a rest in which they ended.

The messages are the framework's own and private, so this holds for the version it is pinned to.
"""

import argparse
import asyncio
import contextlib
import http.client
import sys
import tempfile
import time
import uuid
from collections import Counter
from pathlib import Path

import streamlit
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg

from tests.app.conftest import _answers, _free_port, _serve
from tests.bench.load import PINNED, Session, memory_mb, opened

_SIZE = 20_000_000
_EDGE = "edge"


class Browser:
    """What a browser says along with every file: its cookie and the page that it comes from."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.host = address.removeprefix("http://")
        link = http.client.HTTPConnection(self.host, timeout=60)
        link.request("GET", "/_stcore/health")
        cookies = link.getresponse().headers.get_all("set-cookie") or []
        link.close()
        self.cookie = "; ".join(cookie.split(";")[0] for cookie in cookies)
        pairs = dict(cookie.split(";")[0].split("=", 1) for cookie in cookies)
        self.token = pairs["_streamlit_xsrf"]

    def send(
        self, path: str, content: bytes, method: str = "PUT", **headers: str | None
    ) -> tuple[int, str]:
        """Send a file; status and text of the answer. A header that is None is left out."""
        body = (
            f'--{_EDGE}\r\nContent-Disposition: form-data; name="file"; filename="a.jpg"\r\n'
            "Content-Type: image/jpeg\r\n\r\n"
        ).encode()
        body += content + f"\r\n--{_EDGE}--\r\n".encode()
        usual: dict[str, str | None] = {
            "Host": self.host,
            "Origin": self.address,
            "Cookie": self.cookie,
            "X-Xsrftoken": self.token,
            "Content-Type": f"multipart/form-data; boundary={_EDGE}",
            "Content-Length": str(len(body)),
        }
        link = http.client.HTTPConnection(self.host, timeout=60)
        try:
            link.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
            own = {name.replace("_", "-").title(): value for name, value in headers.items()}
            for name, value in (usual | own).items():
                if value is not None:
                    link.putheader(name, value)
            link.endheaders()
            # Who is refused may be so before all of it is sent.
            with contextlib.suppress(ConnectionError):
                link.send(body)
            answer = link.getresponse()
            try:
                return answer.status, answer.read().decode("utf-8", "replace")
            except (ConnectionError, http.client.HTTPException):
                return answer.status, ""
        except ConnectionError:
            return 0, "closed"
        finally:
            link.close()


async def asked_for(session: Session, count: int) -> list[str]:
    """Addresses for so many files, as a page's box for files asks for them."""
    message = BackMsg()
    message.file_urls_request.request_id = uuid.uuid4().hex
    message.file_urls_request.file_names.extend(f"{n}.jpg" for n in range(count))
    await session.link.send(message.SerializeToString())
    while True:
        told = ForwardMsg.FromString(await asyncio.wait_for(session.link.recv(), 60))
        if told.WhichOneof("type") == "file_urls_response":
            return [one.upload_url for one in told.file_urls_response.file_urls]


def made_up(address: str) -> str:
    """Another file's address of the same session, that nobody gave out."""
    return f"{address.rpartition('/')[0]}/{uuid.uuid4()}"


async def measure(address: str, pid: int, files: int, sessions: int) -> None:
    """Send everything and print what it did."""
    browser = await asyncio.to_thread(Browser, address)
    content = bytes(_SIZE)

    async def sent(paths: list[str]) -> str:
        found = [await asyncio.to_thread(browser.send, path, content) for path in paths]
        return str(dict(Counter(status for status, _ in found)))

    first = await opened(address)
    await first.rerun(page="")
    print(f"before: {memory_mb(pid):.0f} MB")
    (known,) = await asked_for(first, 1)
    answers = await sent([made_up(known) for _ in range(files)])
    print(f"{files} files at made-up addresses: {answers}, {memory_mb(pid):.0f} MB")
    answers = await sent(await asked_for(first, files))
    print(f"{files} files at given ones of one session: {answers}, {memory_mb(pid):.0f} MB")
    others = [await opened(address) for _ in range(sessions)]
    for other in others:
        await other.rerun(page="")
        answers = await sent(await asked_for(other, files))
    print(f"the same of {sessions} more, the last: {answers}, {memory_mb(pid):.0f} MB", flush=True)
    for one in (first, *others):
        await one.link.close()


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--files", type=int, default=12)
    parser.add_argument("--sessions", type=int, default=8)
    # The framework forgets a session that nobody comes back to after two minutes.
    parser.add_argument("--rest", type=float, default=250.0)
    options = parser.parse_args()
    if not streamlit.__version__.startswith(PINNED):
        sys.exit(f"the messages are known for Streamlit {PINNED}*; got {streamlit.__version__}")
    with tempfile.TemporaryDirectory() as name:
        port = _free_port()
        process = _serve(Path(name), port)
        try:
            if not _answers(process, port):
                sys.exit("the server did not start")
            address = f"http://127.0.0.1:{port}"
            asyncio.run(measure(address, process.pid, options.files, options.sessions))
            time.sleep(options.rest)
            print(f"after a rest of {options.rest:.0f} s: {memory_mb(process.pid):.0f} MB")
        finally:
            process.terminate()
            process.wait(20)


if __name__ == "__main__":
    main()
