# Installs what a build and its tests need on Debian 12. Sourced, not run.

packages="gcc g++ clang libc6-dev libclang-rt-14-dev clang-format make git pkg-config meson ninja-build
	libxml2-dev zlib1g-dev libpcre2-dev libjansson-dev libmd-dev
	librsvg2-dev libcairo2-dev libpng-dev libfontconfig-dev fonts-dejavu-core
	libcmocka-dev libgeos-dev libboost-dev libxml2-utils chromium"

# Asks for those that are missing only, so that a second run needs neither network nor root.
install_packages() {
	missing=
	for package in $packages; do
		dpkg-query -W -f '${Status}\n' "$package" 2>/dev/null |
			grep -q '^install ok installed$' || missing="$missing $package"
	done
	# Where node stands already, in whatever way, Debian's own would be in its way.
	command -v npm >/dev/null && command -v node >/dev/null || missing="$missing nodejs npm"
	[ -n "$missing" ] || return 0

	as_root=
	[ "$(id -u)" -eq 0 ] || as_root=sudo
	$as_root apt-get update -qq
	# shellcheck disable=SC2086 # a list of words
	$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq \
		--no-install-recommends $missing
}
