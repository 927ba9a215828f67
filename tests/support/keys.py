"""Signing keys for tests, made by the openssl program in a folder that is gone afterwards."""

import pathlib
import subprocess
import tempfile

KINDS = {"ed25519": ["-algorithm", "ED25519"], "p256": ["-algorithm", "EC", "-pkeyopt", "ec_paramgen_curve:P-256"]}


class KeyFolder:
    """with KeyFolder() as keys: keys.private("a") -> path of a PEM file"""

    def __enter__(self):
        self.folder = tempfile.TemporaryDirectory(prefix="smallend-keys-")
        self.path = pathlib.Path(self.folder.name)
        return self

    def __exit__(self, *_):
        self.folder.cleanup()

    def file(self, name):
        return self.path / name

    def private(self, name, kind="ed25519"):
        """A new private key in the file of this name."""
        path = self.file(name)
        arguments = KINDS.get(kind) or ["-algorithm", *kind.split()]
        subprocess.run(["openssl", "genpkey", *arguments, "-out", path], check=True, capture_output=True, timeout=60)
        path.chmod(0o600)
        return path

    def public(self, name, private):
        """The public part of a private key, in a file of its own."""
        path = self.file(name)
        subprocess.run(["openssl", "pkey", "-in", private, "-pubout", "-out", path], check=True, capture_output=True,
                       timeout=60)
        return path

    def write(self, name, text):
        path = self.file(name)
        path.write_text(text, encoding="utf-8")
        return path
