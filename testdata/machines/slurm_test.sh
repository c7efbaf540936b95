#!/usr/bin/env bash
# Flies a sweep as an array of Slurm tasks on this machine, by sweep.sbatch and
# merge.sbatch as they stand: one task is killed half-way, and the table must have
# the bytes of the sweep in one. Needs Debian's slurm-wlm and munge, and Go; starts
# their daemons in a folder of its own, and ends and removes all of it.
set -euo pipefail

machines=$(cd "$(dirname "$0")" && pwd)
module=$(cd "$machines/../.." && pwd)
PATH=$PATH:/usr/sbin:/sbin
user=$(id -un)
host=$(uname -n)
host=${host%%.*}

# fail shows what there is to see and ends with one sentence.
fail() {
  [ ! -e "${folder:-}/ready" ] || { timeout 10 squeue; tail -n 20 "$folder"/*.log "$folder"/share/*.log; } >&2 || true
  echo "slurm_test: $*" >&2
  exit 1
}

for program in munged slurmctld slurmd sbatch squeue scontrol; do
  command -v $program >/dev/null || fail "there is no $program: install slurm-wlm and munge, as in apt-get install slurm-wlm munge"
done

folder=$(mktemp -d "${TMPDIR:-/tmp}/slurm_test.XXXXXX")
chmod 755 "$folder"
daemons=()

# tidy ends the daemons, the last one first, with every process they started, and
# removes the folder.
tidy() {
  status=$?
  trap - EXIT
  if [ "$status" != 0 ] && [ -e "$folder/ready" ]; then
    timeout 10 scancel --user="$user" --full --signal=KILL && sleep 2 || true
  fi
  for ((i = ${#daemons[@]} - 1; i >= 0; i--)); do
    stop "${daemons[i]}"
  done
  rm -rf "$folder"
  exit "$status"
}
trap tidy EXIT
trap 'exit 1' INT TERM

# stop ends a process, gently for five seconds.
stop() {
  kill "$1" 2>/dev/null || return 0
  for ((n = 0; n < 50; n++)); do
    kill -0 "$1" 2>/dev/null || return 0
    sleep 0.1
  done
  kill -KILL "$1" 2>/dev/null || true
}

# within SECONDS WHAT COMMAND... waits until a command succeeds.
within() {
  local end=$((SECONDS + $1)) what=$2
  shift 2
  until "$@" >/dev/null 2>&1; do
    [ $SECONDS -lt $end ] || fail "$what"
    sleep 0.2
  done
}

# start NAME COMMAND... starts a daemon in the foreground of its own log.
start() {
  local name=$1
  shift
  "$@" >"$folder/$name.log" 2>&1 &
  daemons+=($!)
}

# free_port finds a port that nothing answers at, beside one that was found before.
free_port() {
  local port
  for ((n = 0; n < 100; n++)); do
    port=$((20000 + RANDOM % 10000))
    [ "$port" != "${1:-}" ] || continue
    (: <>"/dev/tcp/127.0.0.1/$port") 2>/dev/null || { echo $port; return; }
  done
  fail 'no port is free'
}

cd "$module"
go build -o "$folder/hotclimb" ./cmd/hotclimb

control_port=$(free_port)
node_port=$(free_port "$control_port")
sed -e "s|@FOLDER@|$folder|; s|@HOST@|$host|; s|@USER@|$user|" \
  -e "s|@CONTROL_PORT@|$control_port|; s|@NODE_PORT@|$node_port|" "$machines/slurm.conf" >"$folder/slurm.conf"
export SLURM_CONF=$folder/slurm.conf
mkdir "$folder/state" "$folder/spool" "$folder/share"
(umask 077 && head -c 1024 /dev/urandom >"$folder/munge.key")

start munged munged --foreground --force --key-file="$folder/munge.key" --socket="$folder/munge.socket" \
  --pid-file="$folder/munge.pid" --seed-file="$folder/munge.seed" --log-file="$folder/munge.own.log"
within 20 'munged does not start' test -S "$folder/munge.socket"
start slurmctld slurmctld -D -i
within 20 'slurmctld does not start' scontrol ping
start slurmd slurmd -D
touch "$folder/ready"
idle() { [ "$(sinfo --noheader --format=%t)" = idle ]; }
within 30 'slurmd does not start' idle

# What the batch scripts run: the program, but the first try of task 2 is killed
# half-way. It cannot end before that, for no file of it may grow beyond 8 KiB,
# which is about half its rows.
cat >"$folder/killed_once" <<'KILLED'
#!/usr/bin/env bash
folder=$(dirname "$0")
if [ "${SLURM_ARRAY_TASK_ID:-}" != 2 ] || [ -e "$folder/killed" ]; then
  exec "$folder/hotclimb" "$@"
fi
rows() { wc -l <parts/2/sweep.csv.part || echo 0; } 2>/dev/null
(ulimit -f 8 && exec "$folder/hotclimb" "$@") &
while [ "$(rows)" -lt 5 ] && kill -0 $!; do sleep 0.01; done
kill -KILL $!
wait $!
rows >"$folder/killed"
kill -KILL $$
KILLED
chmod +x "$folder/killed_once"
cp "$module/testdata/script/small.yaml" "$folder/share/"
sweep=(small.yaml --vary 'inlets.chin.area=40 in^2..60 in^2:10' --vary 'exits.belly.area=50 in^2..90 in^2:30')
cd "$folder/share"
export HOTCLIMB=$folder/killed_once

# submit runs a batch script and prints its number.
submit() { timeout 60 sbatch --parsable "$@" || fail "sbatch $* is refused"; }

# ended says that a job has left the queue.
ended() { [ -z "$(timeout 10 squeue --noheader --jobs="$1" 2>/dev/null)" ]; }

array=$(submit "$machines/sweep.sbatch" "${sweep[@]}")
merge=$(submit --dependency="afterok:$array" "$machines/merge.sbatch" "${sweep[@]}")
within 60 'the array does not end' ended "$array"
within 30 'the merge does not end' ended "$merge"

[ -e "$folder/killed" ] || fail 'no task was killed'
there=$(tr -d ' ' <"$folder/killed")
grep -q "^hotclimb: $there of 100 flights are there$" sweep-2.log || fail "the killed task did not go on from its $there rows"
timeout 120 "$folder/hotclimb" sweep "${sweep[@]}" --out whole --no-progress >/dev/null
for file in sweep.csv sweep.json scenario.yaml sensitivity.svg contour.svg; do
  cmp "whole/$file" "swept/$file" || fail "$file is not that of the sweep in one"
done

# The whole array again, of which one part is lost, flies only that part.
rm -r parts/4 swept
again=$(submit "$machines/sweep.sbatch" "${sweep[@]}")
merge=$(submit --dependency="afterok:$again" "$machines/merge.sbatch" "${sweep[@]}")
within 60 'the array does not end when submitted again' ended "$again"
within 30 'the second merge does not end' ended "$merge"
finished=$(grep -l '^hotclimb: the sweep in parts/. is finished; nothing was flown$' sweep-?.log | wc -l)
[ "$finished" = 5 ] || fail "of the finished parts, $finished instead of 5 were left alone"
cmp whole/sweep.csv swept/sweep.csv || fail 'the table of the second merge is not that of the sweep in one'

echo "slurm_test: 6 tasks, one killed after $there rows, and the bytes of the sweep in one; ${SECONDS} s"
