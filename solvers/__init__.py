"""Call for Heat: 24-volt zone-valve circuits, solved, faulted, taught and marked."""

__version__ = "0.1.0"
