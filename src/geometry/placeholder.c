typedef int geometry_placeholder;
