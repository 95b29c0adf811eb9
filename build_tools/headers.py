"""What a server says with each file: its type, how long it may be kept, and the security headers.

The security headers belong on every answer: pages, scripts, worker scripts and data alike.

The site needs nothing from outside and has no script or style written into a page, so the policy allows
neither. `wasm-unsafe-eval` lets a browser compile the Python engines and nothing else; a worker script
obeys the policy sent with its own file, so the policy belongs on all files.
"""

from __future__ import annotations

CONTENT_SECURITY_POLICY = {
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
    "Content-Security-Policy": "; ".join(f"{name} {value}" for name, value in CONTENT_SECURITY_POLICY.items()),
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Referrer-Policy": "no-referrer",
}

# Only where the types are set too: a server that labels files wrongly must not be taken at its word.
NO_GUESSING = {"X-Content-Type-Options": "nosniff"}

# All kinds of files that the site has.
TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json; charset=utf-8",
    ".webmanifest": "application/manifest+json; charset=utf-8",
    ".svg": "image/svg+xml; charset=utf-8",
    ".txt": "text/plain; charset=utf-8",
    ".xml": "application/xml; charset=utf-8",
    ".png": "image/png",
    ".woff2": "font/woff2",
    ".bin": "application/octet-stream",
}

# For a name that carries the hash of its content, and for all others.
KEEP = "max-age=31536000, immutable"
ASK_AGAIN = "no-cache"
