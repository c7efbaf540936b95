#!/usr/bin/env bash
# The reduced climb flown by CVODE and by sim/ode, side by side: evaluations of f,
# time and error at the same tolerances. Takes less than a minute.
#
#   bash testdata/cvode/run.sh           prints the table
#   bash testdata/cvode/run.sh --write   and keeps CVODE's rows for the Go tests
#
# The reduced climb is the cooling of a glider tug in closed form: eight states
# (metal, two legs of coolant and of oil, two thermostats, altitude) and the
# equations of model.c, which sim/ode/reduced_test.go holds too. Both read their
# numbers from constants.h. Two flights: `climb`, one leg of 20 minutes, and
# `flight`, ground, climb and descent, with a new start after each jump of power.
#
# What is compared, at tolerances from 1e-1 to 1e-10, absolute ones in proportion:
#   evaluations of f in y' = f(y), those for difference quotients included;
#   the best time of several flights with one solver, which reads temperatures at
#   whole minutes and peaks off the dense output;
#   the largest error of those, coolant and oil, against a reference of the same
#   program at 1e-12.
# Where a thermostat kinks, a solver may be lucky. So evaluations are the mean and
# errors the root mean square of flights from eight starts, and a level of error
# counts as reached only if no tighter tolerance exceeds it.
#
# It fails where derivatives of C and Go differ by more than 1e-12 of themselves,
# where references differ by more than 1e-6 K, and where sim/ode needs more
# evaluations than its test allows.
set -euo pipefail
cd "$(dirname "$0")"

if ! command -v gcc >/dev/null; then
  echo 'There is no C compiler: apt-get install gcc libc6-dev.' >&2
  exit 1
fi
if ! echo '#include <cvode/cvode.h>' | gcc -E - >/dev/null 2>&1; then
  echo 'There is no CVODE, or no C library to build it with: apt-get install libsundials-dev libc6-dev.' >&2
  exit 1
fi

out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
gcc -O2 -Wall -Wextra -Werror -o "$out/climb" climb.c model.c \
  -lsundials_cvode -lsundials_nvecserial -lsundials_sunlinsoldense -lsundials_sunmatrixdense -lm
for part in derivatives reference table; do
  "$out/climb" $part >"$out/$part.csv"
done
if [ "${1:-}" = --write ]; then
  cp "$out"/{derivatives,reference,table}.csv .
fi
sed -n 1p "$out/table.csv"
go version
cd ../../sim/ode
HOTCLIMB_CVODE=$out go test -count=1 -run '^(TestSameEquations|TestSameReference|TestAgainstCVODE)$'
