#!/bin/sh
# One of many jobs: builds and publishes every salon whose line in the list is this job's.
#
#   SALONS   a file, one salon a line: FOLDER ADDRESS, such as /salons/0001 s3://care-pages/0001
#   JOBS     how many jobs there are
#   the index of this job, from 0, is told by the batch engine
#
# A salon is a folder of its own, so that jobs share nothing. One that fails does not stop the others; the job then ends with 1 and may be run again:
# pages and publish go on where they stopped.
set -u
index=${JOB_COMPLETION_INDEX:-${SLURM_ARRAY_TASK_ID:?no batch engine told an index}}
failed=0
line=0
while read -r folder address; do
  if [ $((line % JOBS)) -eq "$index" ]; then
    # 1 is a fault in a record: its client keeps the last good page, and every other page is new.
    afterhue pages "$folder" || [ $? -eq 1 ] || failed=1
    afterhue publish "$folder" --to "$address" || failed=1
  fi
  line=$((line + 1))
done <"$SALONS"
exit "$failed"
