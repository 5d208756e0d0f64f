"""`python -m loamline` is the command line."""

from .cli import main

raise SystemExit(main())
