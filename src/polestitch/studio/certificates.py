"""A home-made authority and the studio's certificate, so that a tablet's page is a secure one.

In: the data folder and addresses.  Out: files of certificate and key for the server.
The authority may vouch for addresses of home networks alone (name constraints), so that a tablet that trusts it can
not be deceived about any other site.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from ipaddress import IPv4Address, ip_address, ip_network
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from polestitch.store.files import put_whole

HOME = ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8")
AUTHORITY_DAYS, LEAF_DAYS, RENEW_DAYS = 3650, 397, 30
Key = ec.EllipticCurvePrivateKey


@dataclass(frozen=True)
class Papers:
    """Files the server reads, and the authority's certificate to hand out."""

    certificate: Path
    key: Path
    authority: bytes  # DER
    fingerprint: str


def papers(folder: Path, addresses: tuple[str, ...], now: datetime) -> Papers:
    """Those in ``folder``; made at first use, and made anew where the machine's addresses have changed."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    root, root_key = _authority(folder, now)
    certificate, key = folder / "studio.pem", folder / "studio.key"
    if not (key.exists() and _serves(certificate, root, addresses, now)):
        _make_leaf(folder, (root, root_key), addresses, now)
    fingerprint = root.fingerprint(hashes.SHA256()).hex(":").upper()
    return Papers(certificate, key, root.public_bytes(serialization.Encoding.DER), fingerprint)


def _authority(folder: Path, now: datetime) -> tuple[x509.Certificate, Key]:
    path, key_path = folder / "authority.pem", folder / "authority.key"
    if path.exists() and key_path.exists():
        root = x509.load_pem_x509_certificate(path.read_bytes())
        key = serialization.load_pem_private_key(key_path.read_bytes(), None)
        if isinstance(key, ec.EllipticCurvePrivateKey) and root.not_valid_after_utc - now > timedelta(days=LEAF_DAYS):
            return root, key
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Polestitch at home, {now:%Y-%m-%d}")])
    permitted = [x509.IPAddress(ip_network(each)) for each in HOME]
    usage = dict.fromkeys(_USAGES, False) | {"key_cert_sign": True, "crl_sign": True}
    made = (
        _begun(name, name, key, now, AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(x509.KeyUsage(**usage), critical=True)
        .add_extension(x509.NameConstraints(permitted, [x509.DNSName("")]), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    _keep(path, made.public_bytes(serialization.Encoding.PEM))
    _keep(key_path, _pem(key))
    return made, key


_USAGES = (
    "digital_signature",
    "content_commitment",
    "key_encipherment",
    "data_encipherment",
    "key_agreement",
    "key_cert_sign",
    "crl_sign",
    "encipher_only",
    "decipher_only",
)


def _make_leaf(folder: Path, root: tuple[x509.Certificate, Key], addresses: tuple[str, ...], now: datetime) -> None:
    authority, root_key = root
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Polestitch studio")])
    names = [x509.IPAddress(ip_address(each)) for each in addresses]
    usage = dict.fromkeys(_USAGES, False) | {"digital_signature": True}
    made = (
        _begun(name, authority.subject, key, now, LEAF_DAYS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.KeyUsage(**usage), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(root_key.public_key()), critical=False)
        .sign(root_key, hashes.SHA256())
    )
    _keep(folder / "studio.key", _pem(key))
    _keep(folder / "studio.pem", made.public_bytes(serialization.Encoding.PEM))


def _begun(name: x509.Name, issuer: x509.Name, key: Key, now: datetime, days: int) -> x509.CertificateBuilder:
    begin = now.astimezone(UTC) - timedelta(days=1)  # a tablet's clock may be behind
    return (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(begin)
        .not_valid_after(begin + timedelta(days=days))
    )


def _serves(path: Path, root: x509.Certificate, addresses: tuple[str, ...], now: datetime) -> bool:
    """Whether the certificate names every address and will be good for a while yet."""
    if not path.exists():
        return False
    leaf = x509.load_pem_x509_certificate(path.read_bytes())
    names = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    known = {str(each) for each in names.get_values_for_type(x509.IPAddress)}
    try:
        leaf.verify_directly_issued_by(root)
    except (ValueError, TypeError, InvalidSignature):
        return False
    return set(addresses) <= known and leaf.not_valid_after_utc - now > timedelta(days=RENEW_DAYS)


def is_home(address: str) -> bool:
    """Whether an address is one of a home network, for which the authority may vouch."""
    try:
        found = IPv4Address(address)
    except ValueError:
        return False
    return any(found in ip_network(each) for each in HOME)


def _pem(key: Key) -> bytes:
    plain = serialization.NoEncryption()
    return key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, plain)


def _keep(path: Path, data: bytes) -> None:
    def write(beside: Path) -> None:
        beside.touch(mode=0o600)
        beside.write_bytes(data)

    put_whole(path, write)
