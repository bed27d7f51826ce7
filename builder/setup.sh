#!/bin/sh
# Finds or installs what the project needs. Called by the Makefile: sh builder/setup.sh STEP
#   python     prints the path of a Python of 3.11 or newer
#   node       puts node and npm into .venv when PATH has none that will do
#   browsers   installs the browsers that the tests drive, where it may
set -eu

oldest_python="3, 11"
oldest_node=20

# Debian package and the command or library that it brings: the browsers that tests drive, the screen that one of
# them needs, what printed files are looked at with, the tracer that ours is measured by, and what the second renderer
# of the sample pictures draws with. Add a line for another.
browser_packages='
chromium chromium
chromium-headless-shell chromium-headless-shell
firefox-esr firefox-esr
webkit2gtk-driver WebKitWebDriver
xvfb Xvfb
poppler-utils pdftoppm
qpdf qpdf
ghostscript gs
librsvg2-bin rsvg-convert
potrace potrace
libcairo2 libcairo.so.2
'

works_as_python() {
    # A pyenv shim exists for every version that is installed but refuses to run one that is not
    # chosen, so the only test that counts is to run it.
    "$1" -c "import sys, venv, ensurepip; sys.exit(sys.version_info < ($oldest_python))" >/dev/null 2>&1
}

find_python() {
    # The system's own comes first: distributions build Python with profile-guided optimisation. Version managers seldom
    # do, and plain loops then take 1.6 times as long.
    system=${SYSTEM_PYTHON-/usr/bin/python3}
    if [ -x "$system" ] && works_as_python "$system"; then
        echo "$system"
        return
    fi
    for name in python3.14 python3.13 python3.12 python3.11 python3 python; do
        if path=$(command -v "$name") && works_as_python "$path"; then
            echo "$path"
            return
        fi
    done
    for folder in "${PYENV_ROOT:-$HOME/.pyenv}"/versions/*/bin; do
        [ -x "$folder/python3" ] || continue
        if works_as_python "$folder/python3"; then
            newest="$folder/python3"
        fi
    done
    if [ -n "${newest:-}" ]; then
        echo "$newest"
        return
    fi
    {
        echo "No Python of 3.11 or newer with the venv module was found: not $system, not on PATH"
        echo "(python3.14, python3.13, python3.12, python3.11, python3), not under ${PYENV_ROOT:-$HOME/.pyenv}/versions."
        echo "Install one (on Debian: sudo apt-get install python3-venv), or name it: make setup PYTHON=/path/to/python3.13"
    } >&2
    return 1
}

works_as_node() {
    command -v npm >/dev/null 2>&1 && command -v node >/dev/null 2>&1 &&
        node -e "process.exitCode = process.versions.node.split('.')[0] < $oldest_node ? 1 : 0" >/dev/null 2>&1 &&
        npm --version >/dev/null 2>&1
}

find_node() {
    if works_as_node; then
        return
    fi
    echo "No npm with a node of $oldest_node or newer is on PATH: installing both into .venv"
    .venv/bin/python -m pip install --quiet --require-hashes --requirement requirements-node.txt
    if ! works_as_node; then
        echo "The node that was installed into .venv does not run. Install node $oldest_node or newer with npm." >&2
        return 1
    fi
}

is_installed() {
    command -v "$1" >/dev/null 2>&1 && return
    # ldconfig is not on every user's PATH.
    case "$(PATH="$PATH:/usr/sbin:/sbin" ldconfig -p 2>/dev/null)" in
    *"$1 "*) return 0 ;;
    *) return 1 ;;
    esac
}

find_browsers() {
    missing=
    while read -r package brings; do
        [ -n "$package" ] || continue
        is_installed "$brings" || missing="$missing $package"
    done <<END
$browser_packages
END
    [ -n "$missing" ] || return 0
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        apt-get update --quiet=2
        # shellcheck disable=SC2086  # one word a package is meant
        DEBIAN_FRONTEND=noninteractive apt-get install --quiet=2 --yes --no-install-recommends $missing >/dev/null
        return
    fi
    echo "Not installed, and not ours to install here:$missing. The browser tests are skipped until it is there."
    echo "On Debian: sudo apt-get install$missing"
}

case "${1:-}" in
python) find_python ;;
node) find_node ;;
browsers) find_browsers ;;
*)
    echo "usage: sh builder/setup.sh python|node|browsers" >&2
    exit 2
    ;;
esac
