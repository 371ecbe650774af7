# Shared by run and test: installs what is missing on Debian 12 and builds into build/.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$root"

# Installs the packages of packages.txt whose group is named and which are not there yet.
install_missing() {
    local groups=" $* " missing=() group package
    while read -r group package; do
        case "$group" in ''|'#'*) continue ;; esac
        [[ $groups == *" $group "* ]] || continue
        dpkg-query -W -f='${Status}\n' "$package" 2>/dev/null | grep -q 'install ok installed' || missing+=("$package")
    done < packaging/packages.txt
    [ ${#missing[@]} -eq 0 ] && return 0
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        if ! command -v sudo >/dev/null; then
            echo "These packages are missing and neither root nor sudo is here: ${missing[*]}" >&2
            exit 1
        fi
        as_root=(sudo)
    fi
    echo "Installing: ${missing[*]}"
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq update
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq install -y --no-install-recommends "${missing[@]}" >/dev/null
}

# Builds the targets named, all of them without a name.
build() {
    local target=("$@")
    # Two clones of the same text share what was compiled.
    export CCACHE_BASEDIR="$root" CCACHE_NOHASHDIR=1 CCACHE_SLOPPINESS=pch_defines,time_macros
    mkdir -p build
    cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release >build/configure.log 2>&1 ||
        { cat build/configure.log; exit 1; }
    cmake --build build -- "${target[@]}"
}
