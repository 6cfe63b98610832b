"""traysheets: to-scale tray maps, QR stick labels and batch records from a sowing plan."""

__version__ = "0.1.0"
