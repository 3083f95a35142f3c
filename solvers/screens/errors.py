"""What can go wrong when the site is built or shown, each said in words a user can act on."""

__all__ = ["BuildFailed", "BundleIncomplete", "DownloadFailed", "PortTaken", "SiteError"]


class SiteError(Exception):
    """The site could not be built or shown; the message says why and what to do."""


class BuildFailed(SiteError):
    """Jupyter Book warned or stopped; the message carries its warnings and names the log."""


class BundleIncomplete(SiteError):
    """The Python for the browser lacks a package or a file it needs."""


class DownloadFailed(SiteError):
    """A package of the site could not be fetched, or is not the one that was pinned."""


class PortTaken(SiteError):
    """Another program already listens on the port that was asked for."""
