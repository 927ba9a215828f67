#!/usr/bin/env python3
"""Writes the bill of materials of an image: CycloneDX 1.5, JSON.

    sbom.py LAYOUT OUTPUT --setup deploy/setup.sh [--time SECONDS]

LAYOUT is an OCI image layout with one image in it. Everything is read out of that image: its labels, what dpkg says of
the packages whose files it holds, and the files themselves; only CivetWeb, which is compiled into the program, is taken
from the set-up script that pins its sources. The same image gives the same bytes. Prints the image's digest and size.
"""

import argparse
import datetime
import email.parser
import hashlib
import json
import pathlib
import re
import sys
import tarfile
import urllib.parse
import uuid

# What debian/copyright of each source package says of the libraries themselves.
LICENSES = {
    "glibc": "LGPL-2.1-or-later",
    "gcc-12": "GPL-3.0-or-later WITH GCC-exception-3.1",
    "jansson": "MIT",
    "openssl": "Apache-2.0",
}
STATUS = "var/lib/dpkg/status.d/"
DOCUMENTS = "usr/share/doc/"


class Image:
    """An OCI image layout with one image: digest, labels, and every regular file by name."""

    def __init__(self, layout):
        self.layout = layout
        index = json.loads((layout / "index.json").read_bytes())
        (descriptor,) = index["manifests"]
        self.digest = descriptor["digest"]
        manifest = json.loads(self.blob(self.digest))
        self.config = json.loads(self.blob(manifest["config"]["digest"]))
        self.labels = self.config["config"].get("Labels") or {}
        self.packed_size = sum(layer["size"] for layer in manifest["layers"])
        self.files = {}
        for layer in manifest["layers"]:
            self.read_layer(self.layout / "blobs" / layer["digest"].replace(":", "/"))

    def blob(self, digest):
        data = (self.layout / "blobs" / digest.replace(":", "/")).read_bytes()
        if "sha256:" + hashlib.sha256(data).hexdigest() != digest:
            raise SystemExit(f"sbom: the content of {digest} is another")
        return data

    def read_layer(self, path):
        with tarfile.open(path) as layer:
            for member in layer:
                if member.isreg():
                    self.files[member.name.removeprefix("./")] = layer.extractfile(member).read()

    @property
    def size(self):
        return sum(len(data) for data in self.files.values())


def sha256(data):
    return [{"alg": "SHA-256", "content": hashlib.sha256(data).hexdigest()}]


def debian_url(name, version, **qualifiers):
    quoted = urllib.parse.quote(version, safe="-._~+").replace("+", "%2B")
    return f"pkg:deb/debian/{name}@{quoted}?" + urllib.parse.urlencode(sorted(qualifiers.items()))


def file_component(image, name):
    return {"type": "file", "bom-ref": "file:/" + name, "name": "/" + name, "hashes": sha256(image.files[name])}


def package_components(image):
    """One library per package of Debian, with the files of it that are here."""
    libraries = sorted(name for name in image.files if re.search(r"\.so\.[0-9]+$", name))
    packages = sorted(name for name in image.files if name.startswith(STATUS))
    release = dict(line.split("=", 1) for line in image.files["etc/os-release"].decode().splitlines())
    distribution = "debian-" + release["VERSION_ID"].strip('"')
    for name in packages:
        said = email.parser.Parser().parsestr(image.files[name].decode())
        source, _, source_version = (said["Source"] or said["Package"]).partition(" ")
        url = debian_url(said["Package"], said["Version"], arch=said["Architecture"], distro=distribution)
        own = [library for library in libraries if owner(library) == said["Package"]]
        if not own:
            raise SystemExit(f"sbom: no file of {said['Package']} is in the image")
        libraries = [library for library in libraries if library not in own]
        yield {
            "type": "library",
            "bom-ref": url,
            "supplier": {"name": "Debian"},
            "name": said["Package"],
            "version": said["Version"],
            "licenses": [{"expression": LICENSES[source]}],
            "purl": url,
            "properties": [
                {"name": "debian:source", "value": source},
                {"name": "debian:source-version", "value": source_version.strip("()") or said["Version"]},
            ],
            "components": [file_component(image, library) for library in own],
        }
    if libraries:
        raise SystemExit(f"sbom: whose are these? {libraries}")


def owner(library):
    """The package of Debian 12 that a library comes from."""
    owners = {"libssl": "libssl3", "libcrypto": "libssl3", "libjansson": "libjansson4", "libgcc_s": "libgcc-s1"}
    return owners.get(library.rsplit("/", 1)[-1].split(".")[0], "libc6")


def civetweb_component(setup):
    """CivetWeb as the set-up script pins it: name, version, and the checksum of its original sources."""
    version = re.search(r"^version=(\S+)", setup, re.MULTILINE).group(1)
    checksum, archive = re.search(r"^(\w{64})  (civetweb_\S+\.orig\.tar\.\w+)", setup, re.MULTILINE).groups()
    url = debian_url("civetweb", version, arch="source")
    return {
        "type": "library",
        "bom-ref": url,
        "name": "civetweb",
        "version": version,
        "description": "Compiled into the program",
        "licenses": [{"expression": "MIT"}],
        "purl": url,
        "externalReferences": [
            {
                "type": "distribution",
                "url": archive,
                "comment": "sources, of the Debian source package",
                "hashes": [{"alg": "SHA-256", "content": checksum}],
            }
        ],
    }


def bill(image, setup, seconds):
    version = image.labels["org.opencontainers.image.version"]
    libraries = [civetweb_component(setup), *package_components(image)]
    program = {
        "type": "application",
        "bom-ref": "smallend",
        "name": "smallend",
        "version": version,
        "hashes": sha256(image.files["smallend"]),
    }
    container = {
        "type": "container",
        "bom-ref": "image",
        "name": "smallend",
        "version": version,
        "hashes": [{"alg": "SHA-256", "content": image.digest.removeprefix("sha256:")}],
        "properties": [
            {"name": name, "value": value} for name, value in sorted(image.labels.items()) if name.startswith("org.")
        ],
    }
    time = datetime.datetime.fromtimestamp(seconds, datetime.timezone.utc)
    return {
        "bomFormat": "CycloneDX",
        "specVersion": "1.5",
        "serialNumber": f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_OID, image.digest)}",
        "version": 1,
        "metadata": {"timestamp": time.strftime("%Y-%m-%dT%H:%M:%SZ"), "component": container},
        "components": [program, *libraries],
        "dependencies": [
            {"ref": "image", "dependsOn": ["smallend"]},
            {"ref": "smallend", "dependsOn": [library["bom-ref"] for library in libraries]},
        ],
    }


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("layout", type=pathlib.Path)
    parser.add_argument("output", type=pathlib.Path)
    parser.add_argument("--setup", type=pathlib.Path, required=True)
    parser.add_argument("--time", type=int, default=0, help="of the bill, in seconds since 1970")
    asked = parser.parse_args()
    image = Image(asked.layout)
    text = json.dumps(bill(image, asked.setup.read_text(), asked.time), indent=2)
    asked.output.write_text(text + "\n")
    print(f"{image.digest} {image.size} bytes, {image.packed_size} packed")
    return 0


if __name__ == "__main__":
    sys.exit(main())
