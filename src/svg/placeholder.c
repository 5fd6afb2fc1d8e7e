typedef int svg_placeholder;
