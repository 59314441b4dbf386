# SPDX-License-Identifier: GPL-3.0-or-later
#
# What has to be installed on Debian 12, and how. Sourced by Source/try.sh and Tests/run.sh (POSIX sh).

packages_for_building="
    build-essential cmake ninja-build ccache pkg-config
    juce-modules-source juce-tools libfmt-dev libutf8proc-dev catch2 fonts-b612
    libasound2-dev libjack-jackd2-dev libfreetype-dev libfontconfig1-dev
    libx11-dev libxcomposite-dev libxcursor-dev libxext-dev libxinerama-dev libxrandr-dev libxrender-dev
    libglu1-mesa-dev mesa-common-dev"

# xauth: xvfb-run needs it and only recommends it.
packages_for_testing="
    clang clang-format clang-tidy libclang-rt-14-dev python3 python3-numpy python3-scipy xvfb xauth
    lv2-dev sordi jalv jackd2 imagemagick libfftw3-dev"

# Prints those of its arguments that are not installed.
missing_packages() {
    for package in "$@"; do
        state=$(dpkg-query -W -f '${db:Status-Abbrev}' "$package" 2>/dev/null) || state=
        case $state in
            ?i*) ;;
            *) printf '%s ' "$package" ;;
        esac
    done
}

# Runs a command as root: directly, or through sudo.
as_root() {
    if [ "$(id -u)" -eq 0 ]; then
        "$@"
    elif command -v sudo >/dev/null 2>&1; then
        sudo "$@"
    else
        echo "Cannot install packages: run this as root, or install sudo first." >&2
        return 1
    fi
}

# Installs what is missing of its arguments; touches apt only when something is.
install_packages() {
    missing=$(missing_packages "$@")
    if [ -z "$missing" ]; then
        echo "All Debian packages needed are installed."
        return 0
    fi
    echo "Installing from Debian: $missing"
    # shellcheck disable=SC2086 # one word a package
    as_root env DEBIAN_FRONTEND=noninteractive apt-get -q -o Acquire::Retries=3 update </dev/null &&
        as_root env DEBIAN_FRONTEND=noninteractive apt-get -q -y -o Acquire::Retries=3 \
            install --no-install-recommends $missing </dev/null
}
