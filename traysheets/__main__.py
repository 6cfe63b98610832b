"""`python -m traysheets` is the same as `traysheets`."""

from traysheets.cli.main import main

if __name__ == "__main__":
    main()
