typedef int engine_placeholder;
