"""Whatever happens to a build, the site is the whole old one or the whole new one."""

import errno
import fcntl
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from generator.errors import OutputError
from generator.publish import staging
from generator.publish.staging import claimed, publish
from tests.benchmarks.journals import generated, tiny
from tests.unit.publish.support import NEW, OLD, content, is_whole, leftovers, tree

ROOT = Path(__file__).resolve().parents[3]
_PUBLISHER = """
import sys
from pathlib import Path
from generator.publish.staging import publish
files = {f"pages/{number}.html": f"{sys.argv[2]} {number}".encode() * 500 for number in range(120)}
print("go", flush=True)
publish(Path(sys.argv[1]), files)
"""
_DIE_AT_EVERY_CALL = """
import os, signal, sys
from pathlib import Path
from generator.publish import staging
from tests.unit.publish.support import NEW, OLD, content, is_whole, leftovers

target, way = Path(sys.argv[1]), sys.argv[2]
if way == "two renames":
    staging._renameat2 = lambda new, old: False
watched = ("open", "os.", "shutil.", "ctypes.", "fcntl.", "import")

def killed_at(call):
    child = os.fork()
    if child == 0:
        count = 0
        def hook(event, args):
            nonlocal count
            count += event.startswith(watched)
            if count == call:
                os.kill(os.getpid(), signal.SIGKILL)
        sys.addaudithook(hook)
        staging.publish(target, NEW)
        os._exit(0)
    return os.WIFSIGNALED(os.waitpid(child, 0)[1])

seen, call = {"old": 0, "new": 0, "away": 0}, 1
while True:
    staging.publish(target, OLD)
    if not killed_at(call):
        break
    if target.exists():
        assert is_whole(target), call
        found = content(target)
        assert found in (OLD, NEW), (call, found)
        seen["old" if found == OLD else "new"] += 1
    else:
        assert way == "two renames", call
        seen["away"] += 1
        staging._sweep(target)
        assert is_whole(target) and content(target) == OLD, call
    staging.publish(target, NEW)
    assert content(target) == NEW and leftovers(target.parent) == [], call
    call += 1
print(*seen.values())
"""


def _python(code: str, *arguments: object) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", code, *map(str, arguments)]
    return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def _wortledger(*arguments: object, **more: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "generator", *map(str, arguments)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=120, **more)  # type: ignore[call-overload]


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A site that an earlier build made."""
    target = tmp_path / "place" / "site"
    publish(target, OLD)
    return target


@pytest.mark.parametrize("way", ["exchange", "two renames"])
def test_killed_at_every_call(tmp_path: Path, way: str) -> None:
    """Killed at each call that opens, makes, renames or removes anything, a build leaves a whole site; the next one sweeps."""
    ran = subprocess.run(
        [sys.executable, "-c", _DIE_AT_EVERY_CALL, str(tmp_path / "place" / "site"), way], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr
    old, new, away = map(int, ran.stdout.split())
    assert old > 20
    assert new > 3
    assert away == (1 if way == "two renames" else 0)


def test_killed_at_random_moments(tmp_path: Path) -> None:
    """SIGKILL at twelve seeded moments of publishing leaves the whole old or new site, and the next publishing sweeps."""
    chance = random.Random(20260214)
    target = tmp_path / "site"
    begun = time.perf_counter()
    publish(target, {f"pages/{number}.html": f"first {number}".encode() * 500 for number in range(120)})
    duration = time.perf_counter() - begun
    killed = 0
    for run in range(12):
        before = content(target)
        child = _python(_PUBLISHER, target, f"run-{run}")
        assert child.stdout is not None
        assert child.stdout.readline() == "go\n"
        time.sleep(chance.uniform(0, duration))
        child.kill()
        child.communicate()
        killed += child.returncode == -signal.SIGKILL
        assert is_whole(target)
        assert content(target) == before or content(target)["pages/0.html"].startswith(b"run-%d " % run)
    assert killed >= 6
    publish(target, NEW)
    assert content(target) == NEW
    assert leftovers(tmp_path) == []


@pytest.mark.slow
def test_whole_build_killed_at_random_moments(tmp_path: Path) -> None:
    """SIGKILL at twelve seeded moments of a whole build leaves a whole site, and the next build is as good as a first one."""
    chance = random.Random(7)
    journal, target = generated(tmp_path / "journal", 2), tmp_path / "site"
    assert _wortledger("build", tiny(tmp_path / "tiny"), "--out", target).returncode == 0
    begun = time.perf_counter()
    assert _wortledger("build", journal, "--out", tmp_path / "first").returncode == 0
    duration = time.perf_counter() - begun
    for _ in range(12):
        before = content(target)
        child = subprocess.Popen([sys.executable, "-m", "generator", "build", str(journal), "--out", str(target), "-q"], cwd=ROOT)
        time.sleep(chance.uniform(0, duration))
        child.kill()
        child.wait()
        assert is_whole(target)
        assert content(target) in (before, content(tmp_path / "first"))
    assert _wortledger("build", journal, "--out", target).returncode == 0
    assert content(target) == content(tmp_path / "first")
    assert leftovers(tmp_path) == []


def test_reader_never_misses_a_page(site: Path) -> None:
    """A reader who opens the first page all the time always finds it, old or new, and never half of it."""
    big = {"index.html": b"n" * 100_000, **{f"{number}.html": b"n" for number in range(40)}}
    seen: list[bytes] = []
    gaps: list[OSError] = []
    done = threading.Event()

    def read() -> None:
        while not done.is_set():
            try:
                seen.append((site / "index.html").read_bytes())
            except OSError as error:
                gaps.append(error)

    reader = threading.Thread(target=read)
    reader.start()
    try:
        for run in range(30):
            publish(site, OLD if run % 2 else big)
    finally:
        done.set()
        reader.join()
    assert gaps == []
    assert len(seen) > 100
    assert set(seen) == {OLD["index.html"], big["index.html"]}


@pytest.fixture
def no_exchange(monkeypatch: pytest.MonkeyPatch) -> None:
    """A file system that can't exchange two names."""

    def refuse(_new: Path, old: Path) -> bool:
        raise OSError(errno.EINVAL, os.strerror(errno.EINVAL), str(old))

    monkeypatch.setattr(staging, "_renameat2", refuse)


@pytest.mark.usefixtures("no_exchange")
def test_two_renames_where_there_is_no_exchange(site: Path) -> None:
    """Where the file system can't exchange, two renames do."""
    publish(site, NEW)
    assert content(site) == NEW
    assert is_whole(site)
    assert leftovers(site.parent) == []


def test_two_renames_where_the_kernel_lacks_the_call(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A C library without renameat2 serves too."""
    monkeypatch.setattr(staging.ctypes, "CDLL", lambda *_args, **_more: object())
    publish(site, NEW)
    assert content(site) == NEW


def test_exchange_of_the_kernel(site: Path) -> None:
    """The kernel's call exchanges two folders, or says in the system's words why it doesn't."""
    other = site.parent / "other"
    publish(other, NEW)
    assert staging._renameat2(other, site)
    assert (content(site), content(other)) == (NEW, OLD)
    with pytest.raises(FileNotFoundError):
        staging._renameat2(site.parent / "nothing", site)


@pytest.mark.parametrize("failing", [1, 2])
@pytest.mark.parametrize("error", [OSError(errno.EIO, "Input/output error"), KeyboardInterrupt()], ids=["input/output", "interrupted"])
@pytest.mark.usefixtures("no_exchange")
def test_failing_rename_puts_the_old_site_back(site: Path, monkeypatch: pytest.MonkeyPatch, failing: int, error: BaseException) -> None:
    """If either of the two renames fails, the former site is where it was."""
    before, rename, calls = tree(site), Path.rename, 0

    def faulty(path: Path, target: Path) -> Path:
        nonlocal calls
        calls += 1
        if calls == failing:
            raise error
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", faulty)
    with pytest.raises((OutputError, KeyboardInterrupt)):
        publish(site, NEW)
    assert calls == failing + (failing == 2)
    assert tree(site) == before
    assert leftovers(site.parent) == []


def test_other_errors_of_the_exchange_are_told(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A target that can't be renamed because something is mounted there stays, with a hint."""

    def busy(_new: Path, old: Path) -> bool:
        raise OSError(errno.EBUSY, os.strerror(errno.EBUSY), str(old))

    monkeypatch.setattr(staging, "_renameat2", busy)
    before = tree(site)
    with pytest.raises(OutputError, match=r"busy\); a mount can't be swapped, name a folder within it") as caught:
        publish(site, NEW)
    assert caught.value.status == 74
    assert tree(site) == before


def test_site_caught_between_two_renames_is_put_back(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The next build puts back a former site that was moved aside, even if that build itself fails."""
    before = tree(site)
    site.rename(site.parent / ".wortledger-old-site")
    (site.parent / ".wortledger-new-site").mkdir()
    monkeypatch.setattr(staging, "_stage_and_swap", lambda *_args: (_ for _ in ()).throw(OSError(errno.ENOSPC, "No space left on device")))
    with pytest.raises(OutputError, match="No space left"):
        publish(site, NEW)
    assert tree(site) == before
    assert leftovers(site.parent) == []


def test_site_moved_aside_loses_against_one_in_place(site: Path) -> None:
    """Killed after the second rename, the site in place is the new one: what was moved aside is swept."""
    publish(site.parent / ".wortledger-old-site", NEW)
    publish(site, OLD)
    assert content(site) == OLD
    assert leftovers(site.parent) == []


def test_leftover_that_cannot_be_swept_is_named(site: Path) -> None:
    """Something else under the name of the staging folder is left alone and named."""
    (site.parent / ".wortledger-new-site").symlink_to(site)
    before = tree(site)
    with pytest.raises(OutputError, match=r"\.wortledger-new-site can't be written \(File exists\)"):
        publish(site, NEW)
    assert tree(site) == before


@pytest.mark.parametrize("call", range(1, 8))
def test_failing_write_leaves_the_old_site(site: Path, monkeypatch: pytest.MonkeyPatch, call: int) -> None:
    """If flushing any file or folder fails before the swap, the former site stands, times included."""
    before, flush, calls = tree(site), os.fsync, 0

    def full(handle: int) -> None:
        nonlocal calls
        calls += 1
        if calls == call:
            raise OSError(errno.ENOSPC, "No space left on device")
        flush(handle)

    monkeypatch.setattr(staging.os, "fsync", full)
    with pytest.raises(OutputError, match=rf"{site} can't be written \(No space left on device\); the former site stands") as caught:
        publish(site, NEW)
    assert caught.value.status == 74
    assert tree(site) == before
    assert leftovers(site.parent) == []


def test_folders_that_cannot_be_flushed_are_fine(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """File systems that can't flush a folder serve."""
    flush = os.fsync

    def picky(handle: int) -> None:
        if os.path.isdir(f"/proc/self/fd/{handle}"):  # noqa: PTH112  (a link of the kernel's)
            raise OSError(errno.EINVAL, "Invalid argument")
        flush(handle)

    monkeypatch.setattr(staging.os, "fsync", picky)
    publish(site, NEW)
    assert content(site) == NEW


def test_second_build_is_turned_away(site: Path) -> None:
    """While one build holds the site, another ends at once with 75; afterwards it may."""
    with claimed(site) as replace:
        with pytest.raises(OutputError, match="another build is writing") as caught, claimed(site):
            pytest.fail("two builds at once")
        assert caught.value.status == 75
        assert content(site) == OLD
        replace(NEW)
    assert content(site) == NEW
    publish(site, OLD)
    assert leftovers(site.parent) == []


def test_lock_of_a_dead_build_is_no_obstacle(site: Path) -> None:
    """The file of a lock that nobody holds is taken over and removed."""
    (site.parent / ".site.lock").touch()
    publish(site, NEW)
    assert leftovers(site.parent) == []


@pytest.mark.parametrize("instead", ["nothing", "another"])
def test_lock_removed_while_it_is_taken(site: Path, monkeypatch: pytest.MonkeyPatch, instead: str) -> None:
    """A lock whose file has just been removed, or replaced, protects nothing: try again."""
    lock, path = fcntl.flock, site.parent / ".site.lock"

    def late(handle: int, how: int) -> None:
        lock(handle, how)
        path.rename(path.with_suffix(".gone"))
        if instead == "another":
            path.touch()

    monkeypatch.setattr(staging.fcntl, "flock", late)
    with pytest.raises(OutputError, match="another build has just written") as caught:
        publish(site, NEW)
    assert caught.value.status == 75
    assert path.exists() == (instead == "another")
    assert content(site) == OLD


def test_command_meets_a_lock(site: Path, tmp_path: Path) -> None:
    """The command itself exits 75 while another process holds the lock, and says so."""
    before = tree(site)
    handle = os.open(site.parent / ".site.lock", os.O_RDWR | os.O_CREAT)
    fcntl.flock(handle, fcntl.LOCK_EX)
    try:
        ran = _wortledger("build", tiny(tmp_path / "journal"), "--out", site)
    finally:
        os.close(handle)
    assert (ran.returncode, ran.stdout) == (75, "")
    assert ran.stderr == f"wortledger: another build is writing {site}; wait for it to end\n"
    assert tree(site) == before


def test_file_size_limit_leaves_the_old_site(site: Path, tmp_path: Path) -> None:
    """A system that refuses to write any more ends in one line and status 74."""
    before = tree(site)

    def limit() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (3000, 3000))

    ran = _wortledger("build", tiny(tmp_path / "journal"), "--out", site, preexec_fn=limit)
    assert ran.returncode == 74, ran.stderr
    assert ran.stderr.count("\n") == 1
    assert "can't be written (File too large); the former site stands" in ran.stderr
    assert tree(site) == before
    assert leftovers(site.parent) == []


_ON_A_FULL_DISK = """
from pathlib import Path
import sys
from generator.errors import OutputError
from generator.publish.staging import publish
from tests.unit.publish.support import OLD, leftovers, tree
target = Path(sys.argv[1]) / "site"
publish(target, OLD)
before = tree(target)
try:
    publish(target, {f"{number}.html": b"x" * 4000 for number in range(200)})
except OutputError as error:
    print(error.status, error)
assert tree(target) == before
assert leftovers(target.parent) == []
publish(target, {"index.html": b"small"})
"""


@pytest.mark.skipif(os.geteuid() != 0 or shutil.which("unshare") is None, reason="only root can mount a small disk")
def test_full_disk_leaves_the_old_site(tmp_path: Path) -> None:
    """On a disk of 256 kB a site that doesn't fit leaves the former one, and nothing that takes room."""
    mount = f"mount -t tmpfs -o size=256k tmpfs {tmp_path} && exec {sys.executable} -c '{_ON_A_FULL_DISK}' {tmp_path}"
    ran = subprocess.run(["unshare", "--mount", "sh", "-c", mount], cwd=ROOT, capture_output=True, text=True, check=False)
    if "mount:" in ran.stderr or "unshare:" in ran.stderr:
        pytest.skip("no mounts here")
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.startswith("74 ")
    assert "No space left on device" in ran.stdout


def _interrupted(child: subprocess.Popen[str]) -> tuple[int, str, str]:
    """Send SIGINT; status and output of the child, which has to end within a second or so."""
    child.send_signal(signal.SIGINT)
    begun = time.monotonic()
    out, err = child.communicate(timeout=30)
    assert time.monotonic() - begun < 3.0
    return child.returncode, out, err


def test_interrupted_build_leaves_the_old_site(site: Path, tmp_path: Path) -> None:
    """SIGINT ends a build with 130 within a second, one line, the former site as it was, and nothing left behind."""
    before = tree(site)
    command = [sys.executable, "-m", "generator", "build", str(generated(tmp_path / "journal", 12)), "--out", str(site)]
    child = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    deadline = time.monotonic() + 60
    while not (site.parent / ".site.lock").exists():
        assert time.monotonic() < deadline
        time.sleep(0.01)
    time.sleep(0.3)
    assert _interrupted(child) == (130, "", "interrupted; what was published stands\n")
    assert tree(site) == before
    assert leftovers(site.parent) == []


@pytest.mark.parametrize("module", ["numpy.linalg", "scipy.special._ufuncs", "pint.util"])
def test_interrupted_while_loading(site: Path, tmp_path: Path, module: str) -> None:
    """SIGINT in the middle of loading libraries, which may swallow exceptions, ends a build just the same."""
    before = tree(site)
    command = [sys.executable, "-X", "importtime", "-m", "generator", "build", str(tiny(tmp_path / "journal")), "--out", str(site)]
    child = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert child.stderr is not None
    while not (line := child.stderr.readline()).endswith(f" {module}\n"):
        assert line.startswith("import time:"), line
    status, out, err = _interrupted(child)
    assert (status, out) == (130, "")
    assert [line for line in err.splitlines() if not line.startswith("import time:")] == ["interrupted; what was published stands"]
    assert tree(site) == before
    assert leftovers(site.parent) == []
