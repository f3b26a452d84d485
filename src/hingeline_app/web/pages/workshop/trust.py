"""How a tablet comes to trust this workshop's server: the certificate, its fingerprint to compare, the steps."""

from __future__ import annotations

from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from hingeline_app.web.access import Who, open_to


@open_to(Who.ANYBODY)
@require_safe
def trust(request: HttpRequest) -> HttpResponse:
    """Show the fingerprint and the steps."""
    certificate = _authority()
    facts = {
        "here": "trust",
        "section": "workshop",
        "fingerprint": certificate.fingerprint(hashes.SHA256()).hex(" ").upper() if certificate else "",
        "ends": certificate.not_valid_after_utc if certificate else None,
        "hosts": settings.ALLOWED_HOSTS,
    }
    return render(request, "web/trust.html", facts)


@open_to(Who.ANYBODY)
@require_safe
def trust_certificate(request: HttpRequest) -> HttpResponse:
    """Hand out the authority's certificate; tablets offer to take it in by its kind."""
    certificate = _authority()
    if certificate is None:
        raise Http404
    data = certificate.public_bytes(serialization.Encoding.DER)
    response = HttpResponse(data, content_type="application/x-x509-ca-cert")
    response["Content-Disposition"] = 'attachment; filename="workshop-authority.crt"'
    return response


def _authority() -> x509.Certificate | None:
    path = Path(settings.DATA_FOLDER) / "keys" / "tls" / "authority.crt"
    return x509.load_pem_x509_certificate(path.read_bytes()) if path.exists() else None
