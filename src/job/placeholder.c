typedef int job_placeholder;
