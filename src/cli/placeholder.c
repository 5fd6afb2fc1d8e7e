typedef int cli_placeholder;
