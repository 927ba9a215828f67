"""Certificates for tests, made by openssl when they are needed and gone with their folder."""

import datetime
import pathlib
import secrets
import ssl
import subprocess
import tempfile

CONFIGURATION = """
[ca]
default_ca = us
[us]
database = {folder}/index
serial = {folder}/serial
new_certs_dir = {folder}
default_md = sha256
policy = names
unique_subject = no
x509_extensions = leaf
[names]
commonName = supplied
[leaf]
basicConstraints = CA:FALSE
subjectAltName = DNS:localhost, IP:127.0.0.1
[req]
distinguished_name = nobody
[nobody]
"""
CURVE = ("-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256")


def openssl(*arguments):
    done = subprocess.run(["openssl", *map(str, arguments)], stdin=subprocess.DEVNULL, capture_output=True, timeout=60,
                          check=False)
    if done.returncode != 0:
        raise RuntimeError(f"openssl {arguments}: {done.stderr.decode()}")


class Pair:
    """The files of a certificate and its key."""

    def __init__(self, stem):
        self.certificate, self.key = pathlib.Path(f"{stem}.pem"), pathlib.Path(f"{stem}.key")

    @property
    def settings(self):
        return {"tls_cert": self.certificate, "tls_key": self.key}

    @property
    def der(self):
        return ssl.PEM_cert_to_DER_cert(self.certificate.read_text().split("-----END CERTIFICATE-----")[0]
                                        + "-----END CERTIFICATE-----\n")


class Authority(Pair):
    """One that signs, in a folder of its own."""

    def __init__(self):
        self.owned = tempfile.TemporaryDirectory(prefix="smallend-tls-")
        self.folder = pathlib.Path(self.owned.name)
        super().__init__(self.folder / "authority")
        self.configuration = self.folder / "openssl.cnf"
        self.configuration.write_text(CONFIGURATION.format(folder=self.folder))
        (self.folder / "index").write_text("")
        (self.folder / "serial").write_text("4" + secrets.token_hex(16)[1:] + "\n")
        openssl("req", "-x509", *CURVE, "-nodes", "-config", self.configuration, "-subj", f"/CN={self.folder.name}", "-days", 30,
                "-keyout", self.key, "-out", self.certificate, "-addext", "basicConstraints=critical,CA:TRUE",
                "-addext", "subjectKeyIdentifier=hash")

    def issue(self, name, starts_in_s=-60, ends_in_s=30 * 86400, new_key=CURVE):
        """A pair for localhost; `name` is its files' and its subject's."""
        pair = Pair(self.folder / name)
        request = self.folder / f"{name}.csr"
        openssl("req", *new_key, "-nodes", "-config", self.configuration, "-subj", f"/CN={name}", "-keyout", pair.key,
                "-out", request)
        now = datetime.datetime.now(datetime.timezone.utc)
        start, end = ((now + datetime.timedelta(seconds=s)).strftime("%Y%m%d%H%M%SZ") for s in (starts_in_s, ends_in_s))
        openssl("ca", "-batch", "-notext", "-config", self.configuration, "-startdate", start, "-enddate",
                end, "-cert", self.certificate, "-keyfile", self.key, "-in", request, "-out", pair.certificate)
        pair.key.chmod(0o600)
        return pair

    def context(self, identity=None):
        """For a client that trusts this authority alone, and shows who it is if it is given an identity."""
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(self.certificate)
        if identity:
            context.load_cert_chain(identity.certificate, identity.key)
        return context

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.owned.cleanup()
