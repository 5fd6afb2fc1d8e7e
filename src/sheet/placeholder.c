typedef int sheet_placeholder;
