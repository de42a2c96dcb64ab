import { type Command, EXIT, type Listed, type Loaded, loaded, nameOf } from './command.ts';
import { optionWords } from './option-faults.ts';

const SHELLS = ['bash', 'zsh'] as const;

/** `completion`: what a shell needs to complete commands, options and file names. */
export function completionOf(listed: readonly Listed[]): Command {
  return {
    options: (argv) =>
      argv
        .positional('shell', { choices: SHELLS, default: 'bash', describe: 'the shell it is for' })
        .example('source <(grindloop completion)', 'for this bash; in ~/.bashrc for every one')
        .example('source <(grindloop completion zsh)', 'for this zsh; in ~/.zshrc for every one'),
    run: async (options) => {
      const commands = await Promise.all(listed.map(loaded));
      process.stdout.write(script(commands, options.shell as (typeof SHELLS)[number]));
      return EXIT.done;
    },
  };
}

/** A first word is a command, a word that begins with a dash an option of it, any other the name of a file. */
function script(commands: readonly Loaded[], shell: (typeof SHELLS)[number]): string {
  const cases = commands.map(
    (command) => `    ${nameOf(command)}) words="${optionWords(command).join(' ')}" ;;`,
  );
  const names = commands.map(nameOf).join(' ');
  return `# written by grindloop completion
${shell === 'zsh' ? 'autoload -U +X bashcompinit && bashcompinit\n' : ''}_grindloop() {
  local word="\${COMP_WORDS[COMP_CWORD]}" words=""
  case "\${COMP_WORDS[1]}" in
${cases.join('\n')}
  esac
  if [ "$COMP_CWORD" -eq 1 ]; then COMPREPLY=($(compgen -W "${names} --help --version" -- "$word"))
  elif [ "\${word#-}" != "$word" ]; then COMPREPLY=($(compgen -W "$words" -- "$word"))
  else COMPREPLY=($(compgen -f -- "$word"))
  fi
}
complete -o filenames -F _grindloop grindloop
`;
}
