#!/usr/bin/env bash
# Sourced by the two scripts that a fresh machine needs: packages and build, no questions asked.

# Debian 12 packages; only those that are missing are installed.
program_packages=(
  g++ cmake ninja-build pkg-config
  libocct-modeling-algorithms-dev libocct-data-exchange-dev libtbb-dev
  libglfw3-dev libimgui-dev libstb-dev libglm-dev libgl-dev libegl-dev
  libgl1-mesa-dri libegl1 fonts-dejavu-core
  nlohmann-json3-dev libcli11-dev libfmt-dev libeigen3-dev coinor-libcbc-dev libcairo2-dev libassimp-dev libdxflib-dev libexpat1-dev libseccomp-dev
  libjs-three)
test_packages=(
  catch2 libcgal-dev libbenchmark-dev
  clang-16 clang-tidy-16 clang-format-16 libclang-rt-16-dev
  xvfb xauth xdotool imagemagick poppler-utils git assimp-testmodels
  nodejs chromium libifcplusplus-dev)
# Packages of npm that tests run, in build-node/, which git leaves out.
node_packages=(gltf-validator@2.0.0-dev.3.10)

install_packages() {
  local wanted=("${program_packages[@]}")
  if [ "$1" = all ]; then
    wanted+=("${test_packages[@]}")
    # Some builds of Node bring npm along and refuse the package of that name.
    if ! command -v npm > /dev/null; then
      wanted+=(npm)
    fi
  fi
  local missing=() package
  for package in "${wanted[@]}"; do
    if ! dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null | grep -qx installed; then
      missing+=("$package")
    fi
  done
  if [ ${#missing[@]} -eq 0 ]; then
    return
  fi
  echo "Installing ${missing[*]}"
  local as_root=()
  if [ "$(id -u)" -ne 0 ]; then
    as_root=(sudo)
  fi
  "${as_root[@]}" apt-get update -q
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}"
}

install_node_packages() {
  local package
  for package in "${node_packages[@]}"; do
    if ! grep -qsF "\"version\": \"${package##*@}\"" "build-node/node_modules/${package%@*}/package.json"; then
      echo "Installing $package"
      mkdir -p build-node
      npm install --silent --no-save --no-package-lock --no-audit --no-fund --prefix build-node "$package"
    fi
  done
}

# build_program FOLDER [CMAKE OPTIONS...]
build_program() {
  local folder=$1
  shift
  cmake -G Ninja -S . -B "$folder" "$@" > /dev/null
  cmake --build "$folder"
}
