# bash completion for lapwing

# Wind-on runs of the run sheet, of this folder or of the one that -C names.
_lapwing_runs()
{
    local folder=. i
    for ((i = 1; i + 1 < COMP_CWORD; i++)); do
        [[ ${COMP_WORDS[i]} == -C ]] && folder=${COMP_WORDS[i+1]}
    done
    awk -F, '/,wind_on,/ {print $1}' "$folder/runs.csv" 2>/dev/null
}

# Configurations with a parent, of this folder or of the one that -C names.
_lapwing_configurations()
{
    local folder=. i
    for ((i = 1; i + 1 < COMP_CWORD; i++)); do
        [[ ${COMP_WORDS[i]} == -C ]] && folder=${COMP_WORDS[i+1]}
    done
    awk -F, 'NR > 1 && $2 != "" {print $1}' "$folder/configurations.csv" 2>/dev/null
}

# Baselines of configurations.csv, of this folder or of the one that -C names.
_lapwing_baselines()
{
    local folder=. i
    for ((i = 1; i + 1 < COMP_CWORD; i++)); do
        [[ ${COMP_WORDS[i]} == -C ]] && folder=${COMP_WORDS[i+1]}
    done
    awk -F, 'NR > 1 && $2 == "" {print $1}' "$folder/configurations.csv" 2>/dev/null
}

# Balances of campaign.yaml, of this folder or of the one that -C names.
_lapwing_balances()
{
    local folder=. i
    for ((i = 1; i + 1 < COMP_CWORD; i++)); do
        [[ ${COMP_WORDS[i]} == -C ]] && folder=${COMP_WORDS[i+1]}
    done
    awk '/^[^ #]/ {inside = /^balances:/} inside && /^  [^ #].*:/ {sub(/:.*/, ""); print $1}' \
        "$folder/campaign.yaml" 2>/dev/null
}

_lapwing()
{
    local word=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]}
    case $previous in
    calibrate)
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
        return ;;
    glance)
        mapfile -t COMPREPLY < <(compgen -W "$(_lapwing_runs)" -- "$word")
        return ;;
    sniff | --html | --write | --output | --redact-key)
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
        return ;;
    -C)
        mapfile -t COMPREPLY < <(compgen -d -- "$word")
        return ;;
    --entry | --attitude)
        mapfile -t COMPREPLY < <(compgen -W 'all' -- "$word")
        return ;;
    --family)
        mapfile -t COMPREPLY < <(compgen -W "$(_lapwing_baselines)" -- "$word")
        return ;;
    --without)
        mapfile -t COMPREPLY < <(compgen -W 'weight_tare belt_tare support_tare interference buoyancy
            blockage flow_angularity Reynolds to_target all' -- "$word")
        return ;;
    --scheme)
        mapfile -t COMPREPLY < <(compgen -W 'bracketed abba' -- "$word")
        return ;;
    --configurations | --proof)
        mapfile -t COMPREPLY < <(compgen -W "$(_lapwing_configurations)" -- "$word")
        return ;;
    --form)
        mapfile -t COMPREPLY < <(compgen -W 'iterative direct' -- "$word")
        return ;;
    --terms)
        mapfile -t COMPREPLY < <(compgen -W '6 27 84 96' -- "$word")
        return ;;
    --balance)
        mapfile -t COMPREPLY < <(compgen -W "$(_lapwing_balances)" -- "$word")
        return ;;
    --format)
        mapfile -t COMPREPLY < <(compgen -W 'text csv json html semicolon' -- "$word")
        return ;;
    --csv)
        mapfile -t COMPREPLY < <(compgen -W 'comma semicolon' -- "$word")
        return ;;
    export)
        mapfile -t COMPREPLY < <(compgen -W 'deltas points taps tap_changes loads exclusions channels budget
            ratios equal_balance packages traces observations left_out flags notes' -- "$word")
        return ;;
    esac
    mapfile -t COMPREPLY < <(compgen -W 'init sniff check ingest reduce report batch glance compare plan export explain calibrate help
        -C --quiet --threads --csv --json --notes --redact --redact-key --proof --attitude --entry --family --without --format --html --metric --inputs --trace --text --write --form --terms --keep-all --rated --balance
        --valid-from --valid-until --hours --start --configurations --repeats --scheme --order --seed --facility --output --force --anyway --help --version' -- "$word")
}
complete -F _lapwing lapwing
