# What ./hingeline and ./check share: find Python, have an environment. Read in with ".", not run.
# POSIX shell only: Linux's dash and macOS's own tools, no readlink -f, no flock.

# Prints the first Python that is new enough and can make environments, as the path of the real
# program, so that neither an activated environment nor a later "python3" changes what we use.
find_python() {
    lame=
    for name in python3.13 python3.12 python3.11 python3; do
        found=$("$name" -E -c '
import os, sys
if sys.version_info < (3, 11):
    sys.exit(1)
try:
    import ensurepip, venv
except ImportError:
    print("lame")
else:
    print(os.path.realpath(sys.executable))' 2>/dev/null) || continue
        [ "$found" = lame ] || { printf '%s\n' "$found"; return 0; }
        lame=${lame:-$name}
    done
    if [ -n "$lame" ]; then
        echo "hingeline: $lame cannot make virtual environments; install its venv package" \
            "(Debian, Ubuntu: apt-get install python3-venv), then run this again." >&2
    else
        echo "hingeline: Python 3.11 or newer is needed; install it (Debian, Ubuntu:" \
            "apt-get install python3 python3-venv; macOS: brew install python@3.13)," \
            "then run this again." >&2
    fi
    return 1
}

# is_ready ENVIRONMENT REQUIREMENTS: its stamp is a copy of the requirements. Two cheap looks, no Python.
is_ready() {
    [ -x "$1/bin/python" ] && cmp -s "$2" "$1/stamp" 2>/dev/null
}

# have_environment NAME REQUIREMENTS: sets $environment, and makes it where it is missing or out of date.
# Beside the checkout's files where they can be written, else in the user's cache, one for each checkout.
have_environment() {
    environment=$here/$1
    is_ready "$environment" "$2" && return 0
    if [ ! -w "$here" ] || { [ -e "$environment" ] && [ ! -w "$environment" ]; }; then
        if [ -z "${XDG_CACHE_HOME:-}${HOME:-}" ]; then
            echo "hingeline: $here cannot be written and there is no home folder;" \
                "set XDG_CACHE_HOME to a folder of yours, then run this again." >&2
            return 1
        fi
        place=$(printf %s "$here" | cksum | tr ' ' -)
        environment=${XDG_CACHE_HOME:-$HOME/.cache}/hingeline/$place/$1
        is_ready "$environment" "$2" && return 0
    fi
    python=$(find_python) || return 1
    "$python" -E -P "$here/tools/set_up.py" "$environment" "$2" "$here/src" </dev/null
}
