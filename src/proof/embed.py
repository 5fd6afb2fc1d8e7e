# Turns the page's style and script into C strings, each with the hash that the page's
# Content-Security-Policy allows. Usage: embed.py STYLE SCRIPT OUT.
#
# In HTML the two elements hold plain text, in XML they hold markup: a CDATA section that hides in
# comments suits both.
import base64
import hashlib
import sys


def in_c(text):
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return "\n".join('\t"' + line + '\\n"' for line in escaped.split("\n"))


def constant(name, text):
    # What in_c writes ends with a newline, too.
    digest = hashlib.sha256((text + "\n").encode()).digest()
    return (f"const char {name}[] =\n{in_c(text)};\n"
            f"const char {name}_hash[] = \"'sha256-{base64.b64encode(digest).decode()}'\";\n")


def read(path):
    with open(path, encoding="ascii") as file:
        text = file.read()
    if "]]>" in text or "</" in text:
        sys.exit(f"{path}: ']]>' and '</' would end the element")
    return text


style, script, out = sys.argv[1:]
with open(out, "w", encoding="ascii") as file:
    file.write('#include "proof/embedded.h"\n\n')
    file.write(constant("page_style", "/*<![CDATA[*/\n" + read(style) + "/*]]>*/"))
    file.write(constant("page_script", "//<![CDATA[\n" + read(script) + "//]]>"))
