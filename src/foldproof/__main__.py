"""``python -m foldproof``."""

from foldproof.cli import main

if __name__ == "__main__":
    main()
