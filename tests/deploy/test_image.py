#!/usr/bin/env python3
"""Builds the container image twice, looks at what is in it, runs the program out of it and asks it.

    test_image.py [--output FOLDER]

Needs root, buildah, umoci and mmdebstrap. The base to build in is made out of this machine's own package sources and
kept in $SMALLEND_CACHE/deploy (default: .cache in the project). Where it cannot run, this fails and says why; only
SMALLEND_TEST_IMAGE=no leaves it out. Ends with "N passed, N failed".
"""

import argparse
import json
import os
import pathlib
import shutil
import stat
import subprocess
import sys
import time

from base_image import CannotBuild, cache, ensure_base, run, storage_environment
from tally import PROJECT, Tally, case, want, want_equal

import cases_life
import test_service
from service import Service

USER = 65532
MOST_BYTES = 12_000_000  # unpacked; 10.3 MB when this was written, 8.7 of them libraries
ELF = b"\x7fELF"

# Starts the program with the image as its whole world, which cannot be written to, as the user that the image names.
# Each step replaces the one before, so that the process that was started becomes the program and signals reach it.
RUNNER = """#!/bin/sh
exec unshare --mount sh -c 'mount --bind "$0" "$0" && mount -o remount,bind,ro "$0" &&
  exec setpriv --no-new-privs chroot --userspec={user}:{user} "$0" /smallend "$@"' '{root}' "$@"
"""


# Runs a command in the same root folder as before, but one that is a mount of its own, which buildah wants; one that
# was only changed into (chroot) is not.
REMOUNT = """mount --rbind / /mnt && mount --make-rprivate /mnt || exit 71
chroot /mnt "$0" "$@"
status=$?
umount --lazy /mnt
exit $status"""


class Image:
    """The image, built twice, and the first of them unpacked by a tool of another origin."""

    def __init__(self, output):
        self.output = output
        self.environment = storage_environment()
        base = ensure_base(self.environment)
        self.digests = [self.build(base, name) for name in ("first", "second")]
        bundle = output / "bundle"
        reference = f"{output}/first/image:smallend"
        run(["umoci", "unpack", "--image", reference, str(bundle)])
        self.layers = [
            entry
            for entry in json.loads(run(["umoci", "stat", "--json", "--image", reference]))["history"]
            if entry["layer"]
        ]
        self.root = bundle / "rootfs"
        self.runtime = json.loads((bundle / "config.json").read_bytes())
        self.program = output / "smallend-in-image"
        self.program.write_text(RUNNER.format(root=self.root, user=USER))
        self.program.chmod(0o755)

    def build(self, base, name):
        """The image's digest. CivetWeb's sources are lent to the build, so that it has nothing to fetch."""
        sources = cache() / "civetweb" / "source"
        if not sources.is_dir():
            raise CannotBuild(f"no sources of CivetWeb in {sources}: run deploy/setup.sh first")
        command = [str(PROJECT / "deploy/container/build.sh"), "--base", base, "--output", str(self.output / name)]
        command += ["--", "--volume", f"{sources}:/src/.cache/civetweb/source:ro"]
        try:
            return run(command, env=self.environment).split()[0]
        finally:
            subprocess.run(["buildah", "rmi", "--prune"], env=self.environment, capture_output=True, check=False)

    def files(self):
        return [path for path in sorted(self.root.rglob("*")) if not path.is_dir()]

    def named(self):
        return ["/" + str(path.relative_to(self.root)) for path in self.files()]


@case
def two_builds_give_the_same_digest(image):
    first, second = image.digests
    want(first.startswith("sha256:"), f"no digest: {first}")
    want_equal(second, first, "digest of the second build")
    bills = [(image.output / name / "sbom.cdx.json").read_bytes() for name in ("first", "second")]
    want(bills[0] == bills[1], "the two bills of materials differ")


@case
def it_is_small(image):
    size = sum(path.stat().st_size for path in image.files())
    print(
        f"note image: {size} bytes in {len(image.files())} files, {image.layers[0]['layer']['size']} packed, "
        f"{image.digests[0]}"
    )
    want(size < MOST_BYTES, f"{size} bytes")
    want_equal(len(image.layers), 1, "layers")


@case
def it_holds_the_program_its_libraries_and_papers_only(image):
    for name in image.named():
        papers = name.startswith(("/usr/share/doc/", "/var/lib/dpkg/status.d/")) or name == "/etc/os-release"
        library = name.startswith("/lib") and ".so." in name
        want(papers or library or name == "/smallend", f"what is {name} for?")
        if papers:
            want(not (image.root / name[1:]).read_bytes().startswith(ELF), f"{name} is a program")


@case
def there_is_nothing_in_it_to_run_but_the_program(image):
    """No shell above all: an intruder finds no tool. The loader is one by necessity."""
    for path in image.files():
        if path.stat().st_mode & 0o111 and ".so." not in path.name:
            want_equal(path, image.root / "smallend", "a file that can be run")


@case
def nothing_in_it_can_be_changed_or_raises_rights(image):
    for path in [image.root, *image.root.rglob("*")]:
        status = path.lstat()
        want(not stat.S_ISLNK(status.st_mode), f"{path} is a link")
        want(stat.S_ISREG(status.st_mode) or stat.S_ISDIR(status.st_mode), f"{path} is neither file nor folder")
        want(not status.st_mode & (stat.S_ISUID | stat.S_ISGID | stat.S_ISVTX), f"{path} has rights of its owner")
        want_equal((status.st_uid, status.st_gid), (0, 0), f"owner of {path}")
        want(not status.st_mode & 0o022, f"{path} can be written to by others than root")
        want("security.capability" not in os.listxattr(path, follow_symlinks=False), f"{path} has capabilities")


@case
def it_trusts_no_authority_and_keeps_no_key(image):
    for name in image.named():
        want(not name.endswith((".pem", ".crt", ".key")), f"a certificate or key: {name}")


@case
def it_says_what_it_is_and_runs_as_a_numbered_user(image):
    process, labels = image.runtime["process"], image.runtime["annotations"]
    want_equal((process["user"]["uid"], process["user"]["gid"]), (USER, USER), "user")
    want_equal(process["args"], ["/smallend"], "command")
    for wanted in ("SMALLEND_LISTEN=0.0.0.0:8080", "SMALLEND_ADMIN_LISTEN=0.0.0.0:8081"):
        want(wanted in process["env"], f"{wanted} is not in {process['env']}")
    prefix = "org.opencontainers.image."
    want_equal(labels[prefix + "exposedPorts"], "8080/tcp,8081/tcp", "ports")
    want_equal(labels[prefix + "stopSignal"], "SIGTERM", "signal to stop")
    version = run([str(image.program), "--version"]).split()[1].rstrip(",")
    want_equal(labels[prefix + "version"], version, "version, against the program's own word")
    for name in ("title", "description", "revision", "created"):
        want(labels.get(prefix + name) not in (None, "", "unknown"), f"label {name}: {labels.get(prefix + name)}")


@case
def the_bill_of_materials_lists_every_library(image):
    """Each file that can be loaded stands in the bill with its checksum, and each package that Debian names."""
    bill = json.loads((image.output / "first" / "sbom.cdx.json").read_bytes())
    listed = {}
    for component in bill["components"]:
        for entry in (component, *component.get("components", [])):
            listed[entry["name"]] = next((known["content"] for known in entry.get("hashes", [])), None)
    for path in image.files():
        if not path.read_bytes().startswith(ELF):
            continue
        name = path.name if path.name == "smallend" else "/" + str(path.relative_to(image.root))
        want_equal(listed.get(name), run(["sha256sum", str(path)]).split()[0], f"checksum of {name}")
    for paragraph in (image.root / "var/lib/dpkg/status.d").iterdir():
        want(paragraph.name in listed, f"{paragraph.name} is not in the bill")
    want("civetweb" in listed, "CivetWeb is not in the bill")
    want_equal("sha256:" + bill["metadata"]["component"]["hashes"][0]["content"], image.digests[0], "digest")


@case
def the_program_has_no_rights_there(image):
    with Service(str(image.program), threads=8) as service:
        folder = pathlib.Path("/proc") / str(service.process.pid)
        status = dict(line.split(":\t", 1) for line in (folder / "status").read_text().splitlines() if ":\t" in line)
        want_equal(status["Name"], "smallend", "the process started")
        want_equal(set(status["Uid"].split()) | set(status["Gid"].split()), {str(USER)}, "user")
        want_equal(status["Groups"].strip(), "", "further groups")
        for rights in ("CapEff", "CapPrm", "CapInh", "CapAmb"):
            want_equal(int(status[rights], 16), 0, rights)
        want(os.path.samefile(folder / "root", image.root), f"its root folder is {os.readlink(folder / 'root')}")
        mounts = [line.split() for line in (folder / "mountinfo").read_text().splitlines()]
        own = [fields for fields in mounts if fields[4] in ("/", str(image.root))]
        want(own and "ro" in own[-1][5].split(","), f"its root can be written to: {own}")
        want_equal(service.ask("POST", "/v1/check", b"{}").status, 200, "an answer")


@case
def it_starts_with_the_settings_of_the_image(image):
    """With its own environment and no other; the ports alone are any free ones."""
    names = dict(entry.split("=", 1) for entry in image.runtime["process"]["env"])
    ports = {
        name.removeprefix("SMALLEND_"): value.rsplit(":", 1)[0] + ":0"
        for name, value in names.items()
        if name.startswith("SMALLEND_")
    }
    with Service(str(image.program), **ports) as service:
        want_equal(service.ask("GET", "/readyz", port=service.admin_port).status, 200, "/readyz on the admin port")
        want_equal(service.ask("GET", "/readyz").status, 200, "/readyz")


@case
def its_health_check_asks_the_service_in_it(image):
    """The command of the Containerfile, where it would run: in the container, with its settings."""
    line = next(line for line in (PROJECT / "deploy/Containerfile").read_text().splitlines() if line.startswith("HEALTHCHECK "))
    command = json.loads(line[line.index("CMD ") + 4:])
    want_equal(command[0], "/smallend", "the program that checks")
    with Service(str(image.program), listen="127.0.0.1:0", admin_listen="127.0.0.1:0") as service:
        here = {**os.environ, "SMALLEND_ADMIN_LISTEN": f"0.0.0.0:{service.admin_port}"}
        done = subprocess.run([str(image.program), *command[1:]], env=here, capture_output=True, timeout=30, check=False)
        want_equal((done.returncode, done.stderr), (0, b""), "while it serves")
    done = subprocess.run([str(image.program), *command[1:]], env=here, capture_output=True, timeout=30, check=False)
    want_equal(done.returncode, 1, "afterwards")


def end_to_end(tally, image):
    """The cases of tests/e2e that share a service, and some of its life, against the program in the image."""
    service = Service(str(image.program), threads=32)
    for module in test_service.MODULES:
        for function in getattr(module, "SHARED_CASES", []):
            tally.run(function, service)
    tally.run(Service.close, service)
    for function in (
        cases_life.a_stop_lets_requests_finish,
        cases_life.a_stop_is_told_to_probes_first,
        cases_life.a_stop_waits_no_longer_than_its_limit,
        cases_life.a_second_signal_ends_at_once,
        cases_life.two_instances_give_the_same_bytes,
    ):
        tally.run(function, str(image.program))


def root_is_a_mount():
    with open("/proc/self/mountinfo", encoding="utf-8") as mounts:
        return any(line.split()[4] == "/" for line in mounts)


def main():
    if os.geteuid() == 0 and not root_is_a_mount() and "--again" not in sys.argv:
        again = [sys.executable, os.path.abspath(__file__), *sys.argv[1:], "--again"]
        os.execvp("unshare", ["unshare", "--mount", "--propagation", "unchanged", "sh", "-c", REMOUNT, *again])
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--output", type=pathlib.Path, default=PROJECT / "build-image-test")
    parser.add_argument("--again", action="store_true", help=argparse.SUPPRESS)
    output = parser.parse_args().output.resolve()
    if os.environ.get("SMALLEND_TEST_IMAGE") == "no":
        print("note image: not built, SMALLEND_TEST_IMAGE=no\n0 passed, 0 failed")
        return 0
    tally = Tally()
    started = time.monotonic()
    shutil.rmtree(output, ignore_errors=True)
    output.mkdir(parents=True)
    try:
        image = Image(output)
    except CannotBuild as reason:
        tally.take("the image can be built", str(reason))
        return tally.finish()
    tally.run_all(sys.modules[__name__], image)
    end_to_end(tally, image)
    print(f"note image: built twice and tested in {time.monotonic() - started:.0f} s")
    return tally.finish()


if __name__ == "__main__":
    sys.exit(main())
