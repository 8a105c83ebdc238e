"""`lastcoat completion`."""

from __future__ import annotations

import click

from tracker.cli.common import help_text, run_verb


@click.command(
    help=help_text(
        "Print what your shell needs to complete commands and options.",
        'eval "$(lastcoat completion bash)"    # in ~/.bashrc, bash 4.4 or newer',
        'eval "$(lastcoat completion zsh)"     # in ~/.zshrc',
        "lastcoat completion fish | source     # in fish's config",
    )
)
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
@click.pass_context
@run_verb
def command(ctx: click.Context, shell: str) -> None:
    """Print the shell's completion script."""
    from click.shell_completion import get_completion_class

    maker = get_completion_class(shell)
    if maker is not None:
        click.echo(maker(ctx.find_root().command, {}, "lastcoat", "_LASTCOAT_COMPLETE").source())
