#!/bin/sh
# A study as a job array of Slurm on this very machine: 8 tasks, one killed and put back in the queue,
# the gathered file the same bytes as that of one run. Part of tests/run.sh --all (UF_TEST_ALL=1).
#   sh check_slurm.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

program=$1
source=$2
[ "${UF_TEST_ALL-}" = 1 ] || {
    echo "only with UF_TEST_ALL=1"
    exit 77
}
PATH=$PATH:/usr/sbin:/sbin
for tool in munged slurmctld slurmd sbatch scancel; do
    command -v $tool >/dev/null 2>&1 || {
        echo "no $tool (slurm-wlm, munge): skipped"
        exit 77
    }
done
[ "$(id -u)" -eq 0 ] || {
    echo "Slurm's daemons want root: skipped"
    exit 77
}

out=$(mktemp -d)
daemons=
finish() {
    scancel --quiet --user=root >/dev/null 2>&1 || true
    for id in $daemons; do kill "$id" 2>/dev/null || true; done
    sleep 1
    for id in $daemons; do kill -9 "$id" 2>/dev/null || true; done
    rm -rf "$out"
}
trap finish EXIT
trap 'exit 130' INT TERM
cd "$out"
chmod 755 "$out"
host=$(hostname -s)

# Munge and Slurm with all they own in this folder.
head -c 1024 /dev/urandom >munge.key
chmod 400 munge.key
munged --force --foreground --key-file="$out/munge.key" --socket="$out/munge.socket" \
    --pid-file="$out/munge.pid" --log-file="$out/munge.log" --seed-file="$out/munge.seed" \
    >munged.log 2>&1 &
daemons="$!"
mkdir state spool
SLURM_CONF=$out/slurm.conf
export SLURM_CONF
cat >"$SLURM_CONF" <<END
ClusterName=underfrost
SlurmctldHost=$host(127.0.0.1)
AuthType=auth/munge
AuthInfo=socket=$out/munge.socket
SlurmUser=root
SlurmdUser=root
StateSaveLocation=$out/state
SlurmdSpoolDir=$out/spool
SlurmctldPidFile=$out/slurmctld.pid
SlurmdPidFile=$out/slurmd.pid
SlurmctldPort=26817
SlurmdPort=26818
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
SchedulerType=sched/backfill
JobAcctGatherType=jobacct_gather/none
MpiDefault=none
JobRequeue=1
ReturnToService=2
KillWait=5
BatchStartTimeout=60
SchedulerParameters=sched_interval=1,bf_interval=1
RequeueExit=
$(slurmd -C | sed -n 's/^NodeName=[^ ]*/NodeName='"$host"' NodeAddr=127.0.0.1/p' | sed 's/ UpTime.*//')
PartitionName=main Nodes=$host Default=YES MaxTime=INFINITE State=UP
END
sed -i '/^RequeueExit=$/d' "$SLURM_CONF"
for i in 1 2 3 4 5 6 7 8 9 10; do [ -S munge.socket ] || sleep 0.5; done
slurmctld -D >slurmctld.log 2>&1 &
daemons="$daemons $!"
slurmd -D >slurmd.log 2>&1 &
daemons="$daemons $!"
ready=no
for i in $(seq 1 60); do
    if sinfo -h -o %T 2>/dev/null | grep -qE 'idle|mixed'; then
        ready=yes
        break
    fi
    sleep 0.5
done
[ $ready = yes ] || {
    tail -n 20 slurmctld.log slurmd.log munged.log
    echo "Slurm did not come up here: skipped"
    exit 77
}

cp "$source/cli/examples/larch_hollow.yaml" site.yaml
cat >plan.yaml <<'END'
site: site.yaml
winters: [1 in 10, 1 in 100]
set:
  tank.ends: plane
  grid.finest: 200 mm
  choices.cover: [1.2 m, 1.5 m]
  choices.thickness: [0 mm, 100 mm]
  choices.beyond_tank: [0.6 m]
draws:
  members: 20
  seed: 1
  keys:
    ground[1].moisture: {uniform: [15 percent, 25 percent]}
END
"$program" study plan plan.yaml -o one
"$program" study run plan.yaml -o one -q
"$program" study gather plan.yaml -o one

"$program" study plan plan.yaml -o array
"$program" study submit plan.yaml -o array --slurm --shards 8
sh array/slurm.sh >ids
array=$(sed -n 1p ids)
gather=$(sed -n 2p ids)
# The first task that has some cases: killed without a word, and put back in the queue.
for i in $(seq 1 400); do
    for part in array/part_*_of_00008.txt; do
        if [ -f "$part" ] && [ "$(wc -l <"$part")" -ge 4 ] && [ "$(wc -l <"$part")" -lt 18 ]; then
            task=$(echo "$part" | sed 's/.*part_0*\([0-9]*\)_of.*/\1/')
            break 2
        fi
    done
    sleep 0.05
done
killed=no
if [ -n "${task-}" ]; then
    before=$(wc -l <"array/part_0000${task}_of_00008.txt")
    scontrol requeue "${array}_$task" >requeue.log 2>&1 && killed=yes
fi
for i in $(seq 1 1200); do
    state=$(scontrol show job "$gather" 2>/dev/null | sed -n 's/.*JobState=\([A-Z]*\).*/\1/p')
    case $state in COMPLETED | FAILED | CANCELLED | TIMEOUT) break ;; esac
    sleep 0.5
done
[ "$state" = COMPLETED ] || {
    cat array/*.log slurmd.log | tail -n 40
    echo "the job that gathers ended as $state"
    exit 1
}
cmp one/study.nc array/study.nc
[ $killed = yes ] || {
    cat requeue.log 2>/dev/null || true
    echo "no task could be killed while it ran"
    exit 1
}
restarts=$(scontrol show job "${array}_$task" | sed -n 's/.*Restarts=\([0-9]*\).*/\1/p' | head -n 1)
[ "${restarts:-0}" -ge 1 ] || {
    echo "task $task was not put back in the queue"
    exit 1
}
echo "8 tasks, task $task killed at $((before - 1)) of 20 cases and requeued: the same bytes"
