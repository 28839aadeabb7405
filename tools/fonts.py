"""Makes the bundled typefaces again: static TrueType files for the PDF engine, from the npm font packages.

    mkdir packs && cd packs
    npm pack @fontsource/source-serif-4@5.3.1 @fontsource/atkinson-hyperlegible-next@5.3.0 \
        @fontsource/shippori-mincho@5.3.0
    for pack in *.tgz; do mkdir ${pack%.tgz}; tar xzf $pack -C ${pack%.tgz}; done
    python tools/fonts.py packs src/polestitch/fonts         (needs fonttools and brotli)

The PDF engine reads character by character and knows no OpenType features, so what a feature would
do is done here: tabular figures become the figures, and the Latin and Latin Extended files are one.
A changed font may not wear a reserved name (Open Font License, condition 3; "Source" is one), so all
of ours are called Polestitch Serif, Sans and Mincho, and keep their makers' copyright.
"""

import sys
from pathlib import Path

from fontTools import merge, subset
from fontTools.ttLib import TTFont

SERIF, SANS, MINCHO = (
    "fontsource-source-serif-4-5.3.1/package",
    "fontsource-atkinson-hyperlegible-next-5.3.0/package",
    "fontsource-shippori-mincho-5.3.0/package",
)
FACES = {
    "PolestitchSerif-Regular": (SERIF, "source-serif-4", "400-normal"),
    "PolestitchSerif-Italic": (SERIF, "source-serif-4", "400-italic"),
    "PolestitchSerif-Semibold": (SERIF, "source-serif-4", "600-normal"),
    "PolestitchSans-Regular": (SANS, "atkinson-hyperlegible-next", "400-normal"),
    "PolestitchSans-Bold": (SANS, "atkinson-hyperlegible-next", "700-normal"),
}
LICENCES = {
    "PolestitchSerif": (SERIF, "Made from Source Serif 4. © 2014 - 2021 Adobe Systems Incorporated"),
    "PolestitchSans": (SANS, "Made from Atkinson Hyperlegible Next."),
    "PolestitchMincho": (MINCHO, "Made from Shippori Mincho."),
}
# Trade terms of the techniques, bases, marking and sheets, and what a title of such a ball is made of.
# (All everyday kanji would be 1.5 MB; see the decision page on typefaces.)
TERMS = (
    "手鞠毬球玉糸針線点上下掛千鳥同時巻帯菊升三角五六八四十七九二一菱紡錘笹葉籠目網代星筆連続回渦麻薔薇重"
    "羽根亀甲松束交差捻逆内外左右北南極赤道地割土台等分組合多面体柱立段周色配白黒紺金銀藍紅茜緑苔真鍮"
    "飾房紙始終中心頂辺円花弁桜梅椿波港灯光夜月日雪風木竹石青海七宝巴縫刺通返裏表寸尺糎本数図解説作品名"
    "船帆海岸浜砂町塔鐘霧雨雲空朝夕春夏秋冬年火水土大小高低長短太細新古山川田野森林花鳥魚貝虹影鏡扇鈴"
)
KANA = "".join(chr(code) for code in (*range(0x3000, 0x3040), *range(0x3041, 0x3097), *range(0x30A0, 0x3100)))


def with_tabular_figures(face: TTFont) -> TTFont:
    """``face`` whose figures are all of one width, where its ``tnum`` feature has them."""
    table = face["GSUB"].table
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag != "tnum":
            continue
        for index in record.Feature.LookupListIndex:
            for sub in table.LookupList.Lookup[index].SubTable:
                mapping = getattr(sub, "ExtSubTable", sub).mapping
                for cmap in face["cmap"].tables:
                    cmap.cmap = {code: mapping.get(name, name) for code, name in cmap.cmap.items()}
    return face


def trimmed(face: TTFont, codes: set[int]) -> TTFont:
    """``face`` with only ``codes``, no hinting and no layout tables."""
    options = subset.Options(hinting=False, layout_features=[], notdef_outline=True, name_IDs=["*"])
    options.drop_tables += ["GSUB", "GPOS", "GDEF", "DSIG", "BASE", "STAT", "MATH", "VORG", "vhea", "vmtx"]
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=codes)
    cutter.subset(face)
    return face


def latin(folder: Path, stem: str, style: str, scratch: Path) -> TTFont:
    """Latin and Latin Extended of one face as one font."""
    paths, taken = [], set[int]()
    for part in ("latin", "latin-ext"):
        face = TTFont(folder / "files" / f"{stem}-{part}-{style}.woff2")
        if part == "latin":
            face = with_tabular_figures(face)
        codes = set(face.getBestCmap()) - taken
        taken |= codes
        face.flavor = None
        trimmed(face, codes).save(scratch / f"{part}.ttf")
        paths.append(str(scratch / f"{part}.ttf"))
    return merge.Merger().merge(paths)


def renamed(face: TTFont, name: str) -> TTFont:
    """``face`` under our own ``name`` ("PolestitchSerif-Regular"), its copyright untouched."""
    family, style = name.split("-")
    family = family.replace("Polestitch", "Polestitch ")
    names = face["name"]
    names.names = [record for record in names.names if record.nameID in (0, 5)]
    for identity, text in ((1, family), (2, style), (3, name), (4, f"{family} {style}"), (6, name)):
        names.setName(text, identity, 3, 1, 0x409)
    names.setName("This Font Software is licensed under the SIL Open Font License, Version 1.1.", 13, 3, 1, 0x409)
    return face


def saved(face: TTFont, path: Path) -> None:
    """Write ``face`` with fixed dates, so the same packages give the same bytes."""
    face["head"].created = face["head"].modified = 3_786_912_000  # 1 January 2024, in the font clock
    face.recalcTimestamp = False
    face.flavor = None
    renamed(face, path.stem).save(path)
    print(f"{path.name}: {path.stat().st_size / 1000:.0f} kB, {len(face.getBestCmap())} characters")


def main(packs: Path, target: Path) -> None:
    """Write every face and licence to ``target``."""
    target.mkdir(parents=True, exist_ok=True)
    scratch = packs / "scratch"
    scratch.mkdir(exist_ok=True)
    for name, (folder, stem, style) in FACES.items():
        saved(latin(packs / folder, stem, style, scratch), target / f"{name}.ttf")
    mincho = TTFont(packs / MINCHO / "files" / "shippori-mincho-japanese-400-normal.woff")
    saved(trimmed(mincho, {ord(c) for c in KANA + TERMS}), target / "PolestitchMincho-Regular.ttf")
    for family, (folder, origin) in LICENCES.items():
        licence = (packs / folder / "LICENSE").read_text(encoding="utf-8")
        (target / f"{family}-OFL.txt").write_text(f"{origin}\n{licence}", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
