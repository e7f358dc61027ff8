#!/bin/sh
# Opens the workbench in your browser: press it twice. The first time it sets everything up, which takes some minutes.
# Every change is saved as you make it. Close this window to close the workbench.
cd "${0%/*}" || exit 1
make setup && .venv/bin/foldproof open && exit
echo "It could not be opened. What is missing is told above. Press Enter to close this window."
read -r answer
exit 1
