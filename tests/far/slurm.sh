#!/bin/bash
#SBATCH --job-name=afterhue
#SBATCH --array=0-99%50
#SBATCH --cpus-per-task=2
#SBATCH --mem=1G
#SBATCH --time=02:00:00
# sbatch --export=ALL,SALONS=/salons/list tests/far/slurm.sh
export JOBS="${SLURM_ARRAY_TASK_COUNT:?run it with sbatch}"
exec sh "${FAR:-/salons/far}/salons.sh"
