"""The security headers that every answer of a server carries: pages, scripts, worker scripts and data alike.

The site needs nothing from outside and has no script or style written into a page, so the policy allows
neither. `wasm-unsafe-eval` lets a browser compile the Python engines and nothing else; a worker script
obeys the policy sent with its own file, so the policy belongs on all files.
"""
from __future__ import annotations

_CONTENT_SECURITY_POLICY = {
    "default-src": "'none'",
    "script-src": "'self' 'wasm-unsafe-eval'",
    "style-src": "'self'",
    "img-src": "'self' data:",
    "font-src": "'self'",
    "connect-src": "'self'",
    "worker-src": "'self'",
    "manifest-src": "'self'",
    "base-uri": "'none'",
    "form-action": "'none'",
    "frame-ancestors": "'none'",
}

SECURITY_HEADERS: dict[str, str] = {
    "Content-Security-Policy": "; ".join(f"{name} {value}" for name, value in _CONTENT_SECURITY_POLICY.items()),
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Referrer-Policy": "no-referrer",
}
