# What ./lodestep and ./check share: finding Java, Maven and Debian's packages.
# Sourced by both with $root set to the repository; POSIX sh.

java_oldest=17

say() {
  printf '%s\n' "$*" >&2
}

# Major version of the Java installation at $1, from its release file, or nothing.
java_major() {
  [ -r "$1/release" ] || return 0
  sed -n 's/^JAVA_VERSION="\(1\.\)\{0,1\}\([0-9]*\).*/\2/p' "$1/release"
}

# Whether $1 holds a Java new enough, with the program $2 (java to run, javac to build).
java_serves() {
  [ -x "$1/bin/$2" ] || return 1
  major=$(java_major "$1")
  if [ -z "$major" ]; then
    major=$("$1/bin/java" -version 2>&1 | sed -n '1s/[^"]*"\(1\.\)\{0,1\}\([0-9]*\).*/\2/p')
  fi
  [ "${major:-0}" -ge "$java_oldest" ]
}

# Prints the first Java home that serves for $1: JAVA_HOME, the one on the PATH, the system's own.
java_home_with() {
  on_path=$(command -v "$1" || true)
  if [ -n "$on_path" ]; then
    on_path=$(readlink -f "$on_path")
    on_path=${on_path%/bin/*}
  fi
  for home in "${JAVA_HOME:-}" "$on_path" /usr/lib/jvm/*; do
    if [ -n "$home" ] && java_serves "$home" "$1"; then
      printf '%s\n' "$home"
      return 0
    fi
  done
  return 1
}

# Installs Debian's packages "$@" when this is root on a Debian; else says how, and fails.
install_packages() {
  if [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null; then
    say "installing: apt-get install -y $*"
    if DEBIAN_FRONTEND=noninteractive apt-get install -y "$@" >"$root/target/install.log" 2>&1; then
      return 0
    fi
    # A fresh system knows no packages until its lists have been fetched.
    apt-get update >>"$root/target/install.log" 2>&1 || true
    if DEBIAN_FRONTEND=noninteractive apt-get install -y "$@" >>"$root/target/install.log" 2>&1
    then
      return 0
    fi
    tail -n 20 "$root/target/install.log" >&2
    say "these packages could not be installed: $*"
    return 1
  fi
  if command -v apt-get >/dev/null; then
    say "install them with: sudo apt-get install -y $*"
  else
    say "install them with your system's package manager (on Debian: apt-get install -y $*)"
  fi
  return 1
}

# Sets JAVA_HOME to a JDK that can build and makes sure of Maven, or fails with one sentence.
need_build_tools() {
  missing=""
  java_home_with javac >/dev/null || missing="openjdk-$java_oldest-jdk-headless"
  command -v mvn >/dev/null || missing="${missing:+$missing }maven"
  if [ -n "$missing" ]; then
    say "Lodestep needs a JDK of version $java_oldest or newer and Maven; missing: $missing"
    # shellcheck disable=SC2086 # one word per package
    install_packages $missing || return 1
  fi
  if ! JAVA_HOME=$(java_home_with javac) || ! command -v mvn >/dev/null; then
    say "Lodestep still finds no JDK of version $java_oldest or newer, or no Maven (mvn)"
    return 1
  fi
  export JAVA_HOME
}

# Becomes Maven in the repository, so call it in a subshell; $maven_prefix may name a program to
# start it by. Where no home folder can be written, as for a service account or in a container,
# its store of libraries goes to target/.
exec_maven() {
  # Java takes the home folder from the password file, not from HOME.
  home=$(getent passwd "$(id -u)" 2>/dev/null | cut -d: -f6)
  if [ ! -w "${home:-/nonexistent}/.m2" ] && [ ! -w "${home:-/nonexistent}" ]; then
    set -- -Dmaven.repo.local="$root/target/libraries" "$@"
  fi
  cd "$root"
  exec ${maven_prefix:-} mvn -B -Dstyle.color=never --no-transfer-progress "$@"
}
