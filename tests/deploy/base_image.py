"""The image to build in: a minimal Debian 12 with what the build needs, out of this machine's own package sources."""

import hashlib
import os
import pathlib
import re
import shutil
import subprocess
import time

from tally import PROJECT

RELEASE = "bookworm"
PAUSES_S = (3, 10, 20)  # between the tries of a download
TOOLS = ("buildah", "umoci", "mmdebstrap", "unshare", "setpriv", "chroot")


class CannotBuild(Exception):
    """Why no image can be built on this machine."""


def cache():
    return pathlib.Path(os.environ.get("SMALLEND_CACHE") or PROJECT / ".cache").resolve()


def run(command, **options):
    """Its standard output; CannotBuild with the end of what it said otherwise."""
    done = subprocess.run(command, capture_output=True, text=True, check=False, **options)
    if done.returncode != 0:
        told = (done.stdout + done.stderr)[-3000:]
        raise CannotBuild(f"{' '.join(map(str, command))} ended with {done.returncode}:\n{told}")
    return done.stdout


def storage_environment():
    """Ours, with a store of images and containers apart from the machine's, and builds that need no daemon."""
    missing = [tool for tool in TOOLS if shutil.which(tool) is None]
    if missing:
        raise CannotBuild(f"not on this machine: {' '.join(missing)} (deploy/setup.sh --tests installs them)")
    if os.geteuid() != 0:
        raise CannotBuild("mounting and changing the root folder needs root, and this is another user")
    home = cache() / "deploy"
    home.mkdir(parents=True, exist_ok=True)
    settings = home / "storage.conf"
    settings.write_text(f'[storage]\ndriver = "vfs"\ngraphroot = "{home}/storage"\nrunroot = "{home}/storage-run"\n')
    return {**os.environ, "CONTAINERS_STORAGE_CONF": str(settings), "BUILDAH_ISOLATION": "chroot"}


def package_sources():
    """The files that list this release's packages on this machine; the C library's own repository among others."""
    folder = pathlib.Path("/etc/apt")
    files = [folder / "sources.list", *sorted((folder / "sources.list.d").glob("*"))]
    release = re.compile(rf"^(deb\s.*\s|Suites:.*\s){RELEASE}(\s|$)", re.MULTILINE)
    found = [
        file
        for file in files
        if file.suffix in (".list", ".sources") and file.is_file() and release.search(file.read_text())
    ]
    if not found:
        raise CannotBuild(f"no package source for {RELEASE} in {folder}: this needs Debian 12")
    return found


def machine_options(folder):
    """How this machine reaches packages (proxies, checks of validity), in a file for mmdebstrap."""
    names = ["Acquire::http", "Acquire::https", "Acquire::Check-Valid-Until", "Acquire::Check-Date"]
    told = run(["apt-config", "dump", "--no-empty", *names])
    file = folder / "apt.conf"
    file.write_text(told)
    return file


def make_root(archive, packages, sources):
    options = machine_options(archive.parent)
    command = [
        "mmdebstrap",
        "--variant=minbase",
        f"--aptopt={options}",
        f"--include={','.join(packages)}",
        RELEASE,
        str(archive),
        *map(str, sources),
    ]
    for pause in (*PAUSES_S, None):
        try:
            run(command)
            return
        except CannotBuild:
            if pause is None:
                raise
            time.sleep(pause)


def ensure_base(environment):
    """The name of the base; made if it is not there, or if it would be made of something else by now."""
    packages = run([str(PROJECT / "deploy/setup.sh"), "--list"]).split()
    sources = package_sources()
    state = "\n".join([*packages, *(file.read_text() for file in sources)])
    name = "localhost/smallend-base:" + hashlib.sha256(state.encode()).hexdigest()[:12]
    if (
        subprocess.run(
            ["buildah", "inspect", "--type=image", name], env=environment, capture_output=True, check=False
        ).returncode
        == 0
    ):
        return name
    subprocess.run(
        ["buildah", "rmi", "--all", "--force"], env=environment, capture_output=True, check=False
    )  # outdated
    archive = cache() / "deploy" / "base.tar"
    make_root(archive, packages, sources)
    container = run(["buildah", "from", "scratch"], env=environment).strip()
    try:
        run(["buildah", "add", "--quiet", container, str(archive), "/"], env=environment)
        run(["buildah", "commit", "--quiet", container, name], env=environment)
    finally:
        subprocess.run(["buildah", "rm", container], env=environment, capture_output=True, check=False)
        archive.unlink(missing_ok=True)
    return name
