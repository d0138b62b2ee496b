"""Every published source once. Docstrings of `science`, cautions and the methods page refer to it by key."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    """Where a formula or a fact was published, and how far it was seen."""

    authors: str
    year: str
    title: str
    where: str
    standing: str
    """`seen`, or what of it stands from memory."""


SOURCES: dict[str, Source] = {
    "bettin-spieweck-1990": Source(
        "Bettin, H. and Spieweck, F.", "1990", "Die Dichte des Wassers als Funktion der Temperatur",
        "PTB-Mitteilungen 100, 195–196; the water term of ICUMSA SPS-4",
        "coefficients seen in a public file citing Bubnik et al. 1995; within 0.006 kg/m³ of IAPWS-95 from 0 to 100 °C; title and pages from memory",
    ),
    "icumsa-sps-4": Source(
        "Emmerich, A.; ICUMSA", "1994", "Density of aqueous sucrose, Specification and Standard SPS-4",
        "Zuckerindustrie 119, 120; printed in Bubnik, Kadlec, Urban and Bruhns, Sugar Technologists Manual, Bartens 1995, p. 164",
        "coefficients seen in two independent public files; the journal reference from memory",
    ),
    "nbs-circular-440": Source(
        "Bates, F. J. and associates", "1942", "Polarimetry, Saccharimetry and the Sugars, Table 114",
        "National Bureau of Standards Circular 440", "specific gravities of 0 to 30 °P seen; the densities behind them from memory",
    ),
    "oiml-r-22": Source(
        "International Organization of Legal Metrology", "1975", "International alcoholometric tables, Recommendation R 22",
        "OIML, Paris; after Wagenbreth and Blanke, PTB-Mitteilungen 81 (1971) 412; Council Directive 76/766/EEC",
        "structure and coefficients seen in two public files; its five printed check values are reproduced",
    ),
    "balling-1865": Source(
        "Balling, C. J. N.", "1865", "Die Bierbrauerei: the balance of 2.0665 g extract, 1 g alcohol, 0.9565 g carbon dioxide and 0.11 g yeast",
        "Prague; quoted in MEBAK B-590.09.900 and in Nielsen et al., Brauwelt International 2007", "the quotations seen",
    ),
    "tabarie-1830": Source(
        "Tabarié, E.", "1830", "The gravity of a beer is that of its extract plus that of its alcohol less one",
        "Annales de chimie et de physique 45, 222", "the rule seen quoted; the reference from memory",
    ),
    "hackbarth-2009": Source(
        "Hackbarth, J. J.", "2009", "The effect of ethanol–sucrose interactions on specific gravity",
        "Journal of the American Society of Brewing Chemists 67(3), 146", "abstract seen, title from memory: Tabarié's rule holds below 5 % sucrose and 18 % ethanol by mass",
    ),
    "cutaia-2009": Source(
        "Cutaia, A. J., Reid, A.-J. and Speers, R. A.", "2009", "Examination of the relationships between original, real and apparent extracts, and alcohol",
        "Journal of the Institute of Brewing 115(4), 318–327", "Tables III and VI seen; title from memory",
    ),
    "analytica-ebc-9-5": Source(
        "European Brewery Convention", "various", "Analytica-EBC 9.5: attenuation", "Fachverlag Hans Carl, Nuremberg", "from memory",
    ),
    "analytica-ebc-4-5-1": Source(
        "European Brewery Convention", "various", "Analytica-EBC 4.5.1: extract of malt, Congress mash", "Fachverlag Hans Carl, Nuremberg",
        "from memory; the mass balance is derived independently",
    ),
    "eu-1169-2011": Source(
        "European Union", "2011", "Regulation (EU) No 1169/2011 on food information, Annex II (allergens) and Annex XIV (energy factors)",
        "Official Journal L 304", "seen",
    ),
    "asbc-beer-33": Source(
        "American Society of Brewing Chemists", "various", "Methods of Analysis, Beer-33: caloric content", "as printed in the Oxford Companion to Beer, 2011", "the printed form seen",
    ),
    "crc-102-refraction": Source(
        "Rumble, J. R. (ed.)", "2021", "CRC Handbook of Chemistry and Physics, 102nd edition: Concentrative properties of aqueous solutions",
        "CRC Press", "seen in a public transcription; the cubic was fitted to it, within 5e-5",
    ),
    "mash-mass-balance": Source(
        "this project", "2026", "Mass balance of a mash: all its water carries the dissolved extract", "derived in the docstrings",
        "in the form used in brewing texts (Briggs, Boulton, Brookes and Stevens 2004, from memory)",
    ),
    "lauter-mass-balance": Source(
        "this project", "2026", "Mass balance of fully mixed, fully drained runnings", "derived in the docstrings", "checked against step-by-step mixing",
    ),
    "efficiency-definitions": Source(
        "Palmer, J.", "2006", "How to Brew, chapter 18: extraction and maximum yield", "Brewers Publications", "definitions seen quoted",
    ),
    "lewis-young-2001": Source(
        "Lewis, M. J. and Young, T. W.", "2001", "Brewing, 2nd edition: temperature of a mixed mash", "Kluwer/Plenum", "from memory; a plain heat balance",
    ),
    "palmer-ch16": Source(
        "Palmer, J.", "2006", "How to Brew, chapter 16: the mash", "Brewers Publications", "from memory",
    ),
    "tinseth-1997": Source(
        "Tinseth, G.", "1997", "Hop utilisation", "the author's hop page, c. 1995–97; table reprinted in Palmer, How to Brew, chapter 5",
        "coefficients seen in three independent texts; the table from memory, twelve of its values seen",
    ),
    "malowicki-shellhammer-2005": Source(
        "Malowicki, M. G. and Shellhammer, T. H.", "2005", "Isomerization and degradation kinetics of hop acids in a model wort-boiling system",
        "Journal of Agricultural and Food Chemistry 53(11), 4434–4439", "constants seen in two indexes; title from memory",
    ),
    "morey-1995": Source(
        "Morey, D.", "1995", "Beer's law", "letter, BrewingTechniques", "seen",
    ),
    "malt-colour": Source(
        "common practice", "", "Relation of degrees Lovibond to SRM", "no source", "the relation is named in texts; its coefficients from memory",
    ),
    "asbc-beer-10": Source(
        "American Society of Brewing Chemists", "various", "Methods of Analysis, Beer-10A: SRM = 12.7 A430, EBC = 25 A430", "ASBC", "seen",
    ),
    "weiss-1974": Source(
        "Weiss, R. F.", "1974", "Carbon dioxide in water and seawater: the solubility of a non-ideal gas", "Marine Chemistry 2, 203", "formula seen; title from memory",
    ),
    "iapws-95": Source(
        "Wagner, W. and Pruß, A.", "2002", "The IAPWS formulation 1995 for the thermodynamic properties of ordinary water substance",
        "Journal of Physical and Chemical Reference Data 31, 387", "from memory; the heat of evaporation checked with two libraries of it",
    ),
    "weiss-price-1980": Source(
        "Weiss, R. F. and Price, B. A.", "1980", "Nitrous oxide solubility in water and seawater: vapour pressure of water", "Marine Chemistry 8, 347",
        "from memory; within 0.2 % of IAPWS-95 from 0 to 40 °C",
    ),
    "delange-2008": Source(
        "deLange, A. J.", "2008", "The standard reference method of beer color specification as the basis for a new method of beer color reporting",
        "Journal of the American Society of Brewing Chemists 66(3), 143; the spectrum in Bamforth (ed.), Brewing Materials and Processes, 2016",
        "abstract seen; title, pages and the coefficients of the spectrum from memory",
    ),
    "cie-11664": Source(
        "International Commission on Illumination", "2019; 2022", "ISO/CIE 11664-1 and 11664-2: standard colorimetric observers and illuminants",
        "CIE, Vienna", "the tables as a public colour library holds them; editions from memory",
    ),
    "iec-61966-2-1": Source(
        "International Electrotechnical Commission", "1999", "IEC 61966-2-1: default RGB colour space sRGB", "IEC, Geneva",
        "from memory; checked with a public colour library",
    ),
    "priming-stoichiometry": Source(
        "IUPAC molar masses", "2021", "C₆H₁₂O₆ → 2 C₂H₅OH + 2 CO₂", "computed", "full fermentation, no yeast growth; 1 vol = 1.9768 g/L",
    ),
    "pitching-rule": Source(
        "Fix, G. J. and Fix, L.; White, C. and Zainasheff, J.", "1997; 2010", "Pitching rates by volume and extract", "An Analysis of Brewing Techniques; Yeast", "the rule seen quoted; its origin from memory",
    ),
    "jcgm-101": Source(
        "Joint Committee for Guides in Metrology", "2008", "JCGM 101:2008, Propagation of distributions using a Monte Carlo method", "BIPM, Sèvres", "the method from memory",
    ),
    "ang-2005": Source(
        "Ang, B. W.", "2005", "The LMDI approach to decomposition analysis: a practical guide", "Energy Policy 33, 867–871, equations 4 and 5",
        "equations seen; title from memory",
    ),
    "kuehn-davidson-1961": Source(
        "Kuehn, D. R. and Davidson, H.", "1961", "Computer control II: mathematics of control", "Chemical Engineering Progress 57(6), 44–47", "from memory",
    ),
    "narasimhan-jordache-2000": Source(
        "Narasimhan, S. and Jordache, C.", "2000", "Data Reconciliation and Gross Error Detection: global and measurement tests, example of a heat exchanger with bypass",
        "Gulf Publishing; the measurement test after Mah, R. S. H. and Tamhane, A. C., AIChE Journal 28 (1982) 828", "from memory; the example recomputed",
    ),
    "speers-2003": Source(
        "Speers, R. A., Rogers, P. and Smith, B.", "2003", "Non-linear modelling of industrial brewing fermentations",
        "Journal of the Institute of Brewing 109(3), 229–235; also ASBC Methods of Analysis, Yeast-14", "abstract seen; title and the sign of B from memory",
    ),
    "zwietering-1990": Source(
        "Zwietering, M. H., Jongenburger, I., Rombouts, F. M. and van ’t Riet, K.", "1990", "Modeling of the bacterial growth curve",
        "Applied and Environmental Microbiology 56(6), 1875–1881: the lag as where the steepest tangent leaves the first level", "from memory",
    ),
    "levenberg-marquardt": Source(
        "Moré, J. J.", "1978", "The Levenberg–Marquardt algorithm: implementation and theory",
        "Lecture Notes in Mathematics 630, 105–116; MINPACK, as in SciPy", "from memory; checked with certified values of the NIST StRD set Rat42",
    ),
    "mcmaster-wilhelm-1997": Source(
        "McMaster, G. S. and Wilhelm, W. W.", "1997", "Growing degree-days: one equation, two interpretations", "Agricultural and Forest Meteorology 87, 291–300", "from memory",
    ),
    "tukey-1977": Source("Tukey, J. W.", "1977", "Exploratory Data Analysis: running medians", "Addison-Wesley", "from memory"),
    "davies-gather-1993": Source(
        "Davies, L. and Gather, U.", "1993", "The identification of multiple outliers", "Journal of the American Statistical Association 88, 782–792: the identifier of Hampel", "from memory",
    ),
    "neter-1996": Source(
        "Neter, J., Kutner, M. H., Nachtsheim, C. J. and Wasserman, W.", "1996", "Applied Linear Statistical Models, 4th edition: analysis of covariance", "Irwin", "from memory",
    ),
    "cleveland-1979": Source(
        "Cleveland, W. S.", "1979", "Robust locally weighted regression and smoothing scatterplots", "Journal of the American Statistical Association 74, 829–836", "from memory",
    ),
    "huber-1981": Source("Huber, P. J.", "1981", "Robust Statistics", "Wiley", "from memory"),
    "jugel-2014": Source(
        "Jugel, U., Jerzak, Z., Hackenbroich, G. and Markl, V.", "2014", "M4: a visualization-oriented time series data aggregation", "Proceedings of the VLDB Endowment 7(10), 797–808", "from memory",
    ),
    "terminal-gravity-rule": Source(
        "common practice; MEBAK B-400.32.530", "various", "Gravity unchanged over two days, and near that of a forced ferment, before packaging", "brewing texts",
        "the rule from memory; the forced ferment seen",
    ),
    "common-practice": Source("common practice", "", "Common practice of the trade", "no source", "common practice, no source"),
    "moritz-henriques-1947": Source(
        "Moritz, A. R. and Henriques, F. C.", "1947", "Studies of thermal injury II", "American Journal of Pathology 23, 695–720",
        "its table seen on scald-prevention pages; title from memory",
    ),
    "niosh-94-110": Source(
        "Waters, T. R., Putz-Anderson, V. and Garg, A.", "1994, rev. 2021", "Applications Manual for the Revised NIOSH Lifting Equation", "DHHS (NIOSH) 94-110", "the formula seen",
    ),
    "niosh-npg-co2": Source(
        "NIOSH", "2007", "Pocket Guide to Chemical Hazards: carbon dioxide, carbon monoxide", "DHHS (NIOSH) 2005-149", "limits seen; edition from memory",
    ),
    "cpsc-co": Source(
        "US Consumer Product Safety Commission; NSW Health", "various", "Carbon monoxide: never burn gas or charcoal indoors", "public advice pages", "seen",
    ),
    "project-bottle-rule": Source(
        "this project", "2026", "Above 3 volumes beware, above 4 not in ordinary beer glass", "our own conservative rule",
        "no standard was found that states a safe carbonation for reused bottles; ISO 7458 and ASTM C147 are test methods",
    ),
    "utah-r392-102": Source(
        "State of Utah", "various", "Food truck sanitation, R392-102-10: sanitiser strength, temperature and contact", "Utah Administrative Code", "seen; the form of the FDA Food Code 4-501.114",
    ),
    "fda-178-1010": Source(
        "US Food and Drug Administration", "various", "21 CFR 178.1010: sanitising solutions, used with adequate draining", "Code of Federal Regulations", "paragraph (a) seen",
    ),
    "caustic-practice": Source(
        "NIOSH; common practice", "various", "Pocket Guide: sodium hydroxide (2 mg/m³ ceiling, 10 mg/m³ IDLH)", "DHHS (NIOSH) 2005-149", "limits and edition from memory; handling rules are common practice",
    ),
    "nec-210-8": Source(
        "National Fire Protection Association", "various", "National Electrical Code 210.8: ground-fault protection near sinks, in kitchens, garages and outdoors", "NFPA 70", "from memory",
    ),
    "cfr-25-205": Source(
        "US Alcohol and Tobacco Tax and Trade Bureau", "various", "27 CFR 25.205 and 25.206: beer for personal or family use", "Code of Federal Regulations", "seen",
    ),
    "botulism-low-acid": Source(
        "common food-safety rule", "various", "Low-acid foods above pH 4.6 without air need pressure canning or cold", "as in 21 CFR 113/114 and a brewing journal", "the rule seen; growth limits partly from memory",
    ),
    "fda-178-1010-peracetic": Source(
        "US Food and Drug Administration", "various", "21 CFR 178.1010(c), and 40 CFR 180.940: limits of peracetic acid and acid anionic solutions",
        "Code of Federal Regulations", "from memory; the label decides",
    ),
    "niosh-npg-dust": Source(
        "NIOSH; US Occupational Safety and Health Administration", "various", "Pocket Guide and 29 CFR 1910.1000 Table Z-1: grain dust of oat, wheat and barley",
        "DHHS (NIOSH) 2005-149", "limits from memory",
    ),
    "iapws-97": Source(
        "International Association for the Properties of Water and Steam", "1997", "Industrial formulation: density of saturated vapour at 20 °C", "IAPWS-IF97",
        "title from memory; the density checked against the iapws library",
    ),
    "caustic-strength": Source(
        "brewing texts", "various", "Caustic cleaning at 1 to 3 % and 60 to 85 °C", "various", "from memory; the label decides",
    ),
    "terminal-gravity": Source(
        "this project", "2026", "Gravity is stable when two readings at least 48 hours apart agree within their doubts", "our own form of the trade's two to three days",
        "the trade's rule from memory",
    ),
    "further-fermentation": Source(
        "Balling, C. J. N.; this project", "1865; 2026", "Each point of gravity lost in the bottle gives 0.97 g/L of carbon dioxide", "computed with Balling's balance", "computed",
    ),
    "project-keg-rule": Source(
        "this project", "2026", "A keg without a stated rating is taken up to 4 bar", "our own conservative rule", "no source; the plate on the keg and its relief valve decide",
    ),
    "project-storage-rule": Source(
        "this project", "2026", "Bottle-conditioned beer above 25 °C", "our own rule; pressures after Weiss 1974", "no standard was found for reused bottles",
    ),
    "beer-freezing": Source(
        "common practice", "", "Freezing point of beer, −(0.42 · alcohol by weight + 0.04 · original extract + 0.2) °C", "no source", "from memory",
    ),
    "astm-c149": Source(
        "ASTM International", "various", "C149: thermal shock resistance of glass containers; containers are commonly tested at a drop of 42 °C", "ASTM", "from memory",
    ),
    "standard-drink": Source(
        "World Health Organization", "various", "A standard drink of 10 g of alcohol", "WHO, Geneva", "from memory; countries use 8 to 20 g",
    ),
    "boil-over-practice": Source("common practice", "", "Head space at the first boil", "no source", "common practice, no source"),
}  # fmt: skip


def citation(key: str) -> str:
    """A source in one line, for JSON and margin notes."""
    source = SOURCES[key]
    year = f" ({source.year})" if source.year else ""
    who = "" if source.authors == "common practice" else f"{source.authors}{year}: "
    return f"{who}{source.title}, {source.where}" if who else f"{source.title} ({source.where})"


def short_citation(key: str) -> str:
    """Who said it and when, for a margin whose link leads to the whole citation."""
    source = SOURCES[key]
    return f"{source.authors} {source.year}".strip()
