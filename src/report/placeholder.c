typedef int report_placeholder;
