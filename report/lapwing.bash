# bash completion for lapwing
_lapwing()
{
    local word=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]}
    case $previous in
    -C)
        mapfile -t COMPREPLY < <(compgen -d -- "$word")
        return ;;
    --entry | --attitude)
        mapfile -t COMPREPLY < <(compgen -W 'all' -- "$word")
        return ;;
    --format)
        mapfile -t COMPREPLY < <(compgen -W 'text csv' -- "$word")
        return ;;
    esac
    mapfile -t COMPREPLY < <(compgen -W 'init sniff check ingest reduce report batch compare explain help
        -C --quiet --threads --attitude --entry --format --metric --inputs --write --help --version' -- "$word")
}
complete -F _lapwing lapwing
