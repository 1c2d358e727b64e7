//! Every published source a law or a number stands on, one constant each.
//!
//! A law's doc comment links the constant; a [`Parameter`](super::parameter::Parameter) carries it. What was not read
//! in full says so: `read` is shown wherever the source is shown. "Open implementation" means the numbers were read in
//! open-source code that cites the source. [`ALL`] holds each once, by its short name.
//!
//! Knows nothing of: who cites it.

/// A published source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Reference {
    /// Short key, author and year: `SHARMA_2005` reads "Sharma, Wu & Dalal 2005".
    pub short: &'static str,
    /// The full reference.
    pub full: &'static str,
    /// How much of it was read: "full table", "abstract", "second hand", "from memory".
    pub read: &'static str,
}

/// Declares each source and the list of all of them together, so that none can be left out.
macro_rules! references {
    ($($name:ident: $short:literal, $read:literal, $full:literal;)*) => {
        $(
            #[doc = concat!($full, " Read: ", $read, ".")]
            pub const $name: Reference = Reference { short: $short, full: $full, read: $read };
        )*

        /// Every source, sorted by its short name.
        pub const ALL: &[&Reference] = &[$(&$name),*];
    };
}

references! {
    CIE_015_2018: "CIE 015:2018",
        "tables through an open implementation; text and clause numbers from memory",
        "CIE 015:2018, Colorimetry, 4th edition, International Commission on Illumination.";
    CODATA_2018: "CODATA 2018",
        "from memory",
        "CODATA, recommended values of the fundamental physical constants: 2018.";
    CONSUMER_NZ_2015: "Consumer NZ 2015",
        "full table is a ranking only; numbers not published, an excerpt",
        "Consumer NZ, Colour-care shampoo doesn't fight fade, 11 November 2015.";
    CRANK_1975: "Crank 1975",
        "from memory",
        "J. Crank, The Mathematics of Diffusion, 2nd edition, Oxford (1975), diffusion in a cylinder.";
    DONNER_JENSEN_2006: "Donner & Jensen 2006",
        "open implementation (two renderers)",
        "C. Donner, H. W. Jensen, A spectral BSSRDF for shading human skin, Eurographics Symposium on Rendering (2006).";
    LOUSSOUARN_2016: "Eur. J. Dermatol. 26, 2016, p. 144",
        "second hand, quoted in Evans & Wickett 2012, p. 197; number table not seen",
        "World survey of hair growth (2249 adults, 24 groups), European Journal of Dermatology 26(2), 144-154 (2016).";
    EVANS_WICKETT_2012: "Evans & Wickett 2012",
        "excerpts with full tables 1 and 5 of chapter 4",
        "T. Evans, R. R. Wickett (eds), Practical Modern Hair Science (2012).";
    FUJII_2017: "Fujii et al. 2017",
        "abstract",
        "T. Fujii et al., fading of semi-permanent colour on keratin film in tap water, Journal of the Society of Cosmetic Chemists of Japan 51, 237-245 (2017).";
    GANDHI_2018: "Gandhi et al. 2018",
        "abstract; authors work for a tool maker",
        "A. A. Gandhi et al., Curl reversion and damage, Journal of Cosmetology & Trichology 4:1 (2018).";
    HART_1968: "Hart 1968",
        "from memory",
        "J. F. Hart et al., Computer Approximations, Wiley (1968), algorithm 5666.";
    HOLMES_1964: "Holmes 1964",
        "excerpt of p. 604; author from memory",
        "A. W. Holmes, Diffusion processes in human hair, Journal of the Society of Cosmetic Chemists 15, p. 604 (1964).";
    HUNTERLAB_2008: "HunterLab 2008",
        "open implementation, with its worked example",
        "HunterLab, Hunter L,a,b Color Scale, application note (2008).";
    IEC_61966_2_1: "IEC 61966-2-1",
        "second hand; constants agree in several open implementations",
        "IEC 61966-2-1:1999, Multimedia systems and equipment, colour measurement and management, part 2-1: default RGB colour space sRGB.";
    IFSCC_2008: "IFSCC Magazine 11(2), 2008",
        "abstract",
        "A highly sensitive method to determine the washing resistance of artificial hair colours, IFSCC Magazine 11(2), 139-142 (2008).";
    ISO_105_A02: "ISO 105-A02",
        "full table, in a preview of EN 20105-A02:1994",
        "ISO 105-A02:1993, Textiles, tests for colour fastness, part A02: Grey scale for assessing change in colour, clause 2.4.";
    ISO_105_A05: "ISO 105-A05",
        "open implementation citing clauses 7.2 and 8; damping terms from memory",
        "ISO 105-A05:1996, Textiles, tests for colour fastness, part A05: Instrumental assessment of change in colour for determination of grey scale rating.";
    ISO_CIE_11664_1: "ISO/CIE 11664-1",
        "tables through an open implementation",
        "ISO/CIE 11664-1:2019, Colorimetry, part 1: CIE standard colorimetric observers.";
    ISO_CIE_11664_2: "ISO/CIE 11664-2",
        "tables through an open implementation",
        "ISO/CIE 11664-2:2022, Colorimetry, part 2: CIE standard illuminants.";
    HAIR_LUSTRE_2000: "J. Cosmet. Sci. 51, 2000, p. 293",
        "full tables III, IV and VIII; authors from memory",
        "C. Scanavez et al., Measurement of hair luster by diffuse reflectance spectrophotometry, Journal of Cosmetic Science 51, pp. 293 and 299 (2000).";
    FIBRE_EQUATION_2007: "J. Cosmet. Sci. 58(2), 2007, p. 138",
        "excerpt",
        "Short-time uptake equation of a fibre, Journal of Cosmetic Science 58(2), p. 138 (2007).";
    DYE_UPTAKE_2008: "J. Cosmet. Sci. 59(2), 2008, p. 113",
        "full table IV",
        "Effect of cellulose polymers on dye uptake, Journal of Cosmetic Science 59(2), p. 113 (2008).";
    BLEACH_FADE_2008: "J. Cosmet. Sci. 59(4), 2008, p. 366",
        "excerpt",
        "Study of bleaching before colouring with a cationic red, Journal of Cosmetic Science 59(4), p. 366 (2008).";
    HOT_IRON_2011: "J. Cosmet. Sci. 62(2), 2011, p. 119",
        "excerpt",
        "Conference report on hot ironing and the hair cortex, Journal of Cosmetic Science 62(2), p. 119 (2011).";
    HOT_IRON_2013: "J. Cosmet. Sci. 64(2), 2013, p. 125",
        "excerpt",
        "Automated hot ironing and keratin change, Journal of Cosmetic Science 64(2), 125-131 (2013).";
    COPPER_FADE_2021: "J. Cosmet. Sci. 72(3), 2021, p. 278",
        "full table III; authors and title not seen, read as an excerpt",
        "Study of copper, oxidative dyes and colour fade, Journal of Cosmetic Science 72(3), p. 278 (2021).";
    HAIR_COLOURANTS_1967: "J. Soc. Cosmet. Chem. 18, 1967, p. 26",
        "excerpt",
        "Hair colourants, a practical approach, Journal of the Society of Cosmetic Chemists 18, p. 26 (1967).";
    CORBETT_1984: "J. Soc. Cosmet. Chem. 35, 1984, p. 307",
        "full table IV; author from memory",
        "J. F. Corbett, Hair colorant chemistry, Journal of the Society of Cosmetic Chemists 35, p. 307 (1984).";
    POROSITY_DIFFUSION_1993: "J. Soc. Cosmet. Chem. 44, 1993, p. 357",
        "excerpt of pp. 357-359",
        "Diffusion of a dye probe in untreated, oxidised and bleached hair, Journal of the Society of Cosmetic Chemists 44, 357-359 (1993).";
    JACQUES_1998: "Jacques 1998",
        "excerpt; extinction tables through an open implementation",
        "S. L. Jacques, Skin optics (1998), with extinction of melanins after T. Sarna and H. M. Swartz.";
    KUBELKA_MUNK_1931: "Kubelka & Munk 1931",
        "from memory",
        "P. Kubelka, F. Munk, Ein Beitrag zur Optik der Farbanstriche, Zeitschrift fuer technische Physik 12, 593-601 (1931).";
    LEE_2011: "Lee et al. 2011",
        "abstract",
        "Lee et al., Hair shaft damage from heat and drying time of hair dryer, Annals of Dermatology 23, 455-462 (2011).";
    LOCKE_JACHOWICZ_2005: "Locke & Jachowicz 2005",
        "abstract and excerpts of pp. 416 and 421",
        "S. A. Locke, J. Jachowicz, Fading of artificial hair color and its prevention by photofilters, Journal of Cosmetic Science 56(6), 407-425 (2005).";
    LOUSSOUARN_2001: "Loussouarn 2001",
        "abstract, reproduced; title, volume and pages from memory",
        "G. Loussouarn, African hair growth parameters, British Journal of Dermatology 145, 294-297 (2001).";
    LOUSSOUARN_2005: "Loussouarn et al. 2005",
        "second hand, table reproduced in Evans & Wickett 2012, p. 197; volume and pages from memory",
        "G. Loussouarn, C. El Rawadi, G. Genain, Diversity of hair growth profiles, International Journal of Dermatology 44 (suppl. 1), 6-9 (2005).";
    MAGTIZA_2021: "Magtiza 2021",
        "excerpts",
        "A. Magtiza, Hair Colour for Hairstylists: Level 2, BCcampus (2021), CC BY 4.0.";
    MCMULLEN_JACHOWICZ_1998: "McMullen & Jachowicz 1998",
        "abstract and an excerpt",
        "R. McMullen, J. Jachowicz, Thermal degradation of hair, Journal of Cosmetic Science 49, 223-244 (1998).";
    MUNROE_2010: "Munroe 2010",
        "full table of names, as carried by an open implementation",
        "R. Munroe, Color name survey results (2010), names and median sRGB of 949 colours, CC0.";
    NOGUEIRA_JOEKES_2004: "Nogueira & Joekes 2004",
        "abstract",
        "A. C. S. Nogueira, I. Joekes, hair colour changes by light, Journal of Photochemistry and Photobiology B 74, 109-117 (2004).";
    NOGUEIRA_2007: "Nogueira et al. 2007",
        "abstract",
        "A. C. S. Nogueira et al., yellowing of white hair under ultraviolet, visible and infrared light, Journal of Photochemistry and Photobiology B 88, 119-125 (2007).";
    OTTOSSON_2020: "Ottosson 2020",
        "matrices and table of four pairs from memory; checked against an open implementation",
        "B. Ottosson, A perceptual color space for image processing (2020).";
    PIRES_OLIVEIRA_JOEKES: "Pires-Oliveira & Joekes",
        "excerpt of a poster",
        "R. Pires-Oliveira, I. Joekes, hair colour in chlorinated water, poster, UNICAMP.";
    EU_2019_831: "Regulation (EU) 2019/831",
        "excerpt of the annex",
        "Commission Regulation (EU) 2019/831 amending Annex III of Regulation (EC) 1223/2009, entry 12: hydrogen peroxide.";
    SHARMA_2005: "Sharma, Wu & Dalal 2005",
        "full table I in two agreeing transcriptions; equation numbers from memory",
        "G. Sharma, W. Wu, E. N. Dalal, The CIEDE2000 color-difference formula: implementation notes, supplementary test data, and mathematical observations, Color Research & Application 30(1), 21-30 (2005).";
    TAKAHASHI_NAKAMURA_2004: "Takahashi & Nakamura 2004",
        "abstract",
        "T. Takahashi, K. Nakamura, light and the lightening of blond hair, Journal of Cosmetic Science 55 (2004).";
    HELIX_HALF_LIFE_2018: "Thermochim. Acta 661, 2018",
        "abstract",
        "Kinetics of helix and matrix loss of hair on a hot iron, Thermochimica Acta 661, 78-83 (2018).";
    WCAG_2_2: "WCAG 2.2",
        "excerpt; formulas of luminance and contrast from memory",
        "W3C, Web Content Accessibility Guidelines (WCAG) 2.2, Recommendation, 5 October 2023.";
    WAGNER_JOEKES_2005: "Wagner & Joekes 2005",
        "abstract",
        "R. C. C. Wagner, I. Joekes, protein loss of hair by surfactant and temperature, Colloids and Surfaces B (2005).";
    WEST_2005: "West 2005",
        "from memory; checked against a second implementation",
        "G. West, Better approximations to cumulative normal functions, Wilmott Magazine (2005).";
    WICHURA_1988: "Wichura 1988",
        "from memory; the checks of the paper hold to all digits",
        "M. J. Wichura, Algorithm AS 241: the percentage points of the normal distribution, Applied Statistics 37(3), 477-484 (1988).";
    YUN_AHN_2023: "Yun & Ahn 2023",
        "abstract",
        "K. Yun, C. Ahn, fading of cationic hair colour by shampoo, Fashion and Textiles 10:1 (2023).";
    ZHANG_2016: "Zhang, McMullen & Kulcsar 2016",
        "abstract; rates not seen",
        "Zhang, McMullen, Kulcsar, colour loss of dyed hair by washing, Journal of Cosmetic Science 67, 1-11 (2016).";
    DA_FRANCA_2015: "da Franca et al. 2015",
        "abstract",
        "S. A. da Franca et al., Types of hair dye and their mechanisms of action, Cosmetics 2(2), 110-126 (2015).";
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_source_stands_once_and_in_order() {
        for pair in ALL.windows(2) {
            assert!(pair[0].short < pair[1].short, "{} before {}", pair[0].short, pair[1].short);
        }
    }

    #[test]
    fn no_two_sources_are_the_same_text() {
        let full: std::collections::BTreeSet<_> = ALL.iter().map(|reference| reference.full).collect();
        assert_eq!(full.len(), ALL.len());
    }

    #[test]
    fn every_source_says_how_much_of_it_was_read() {
        let grades = ["full table", "excerpt", "abstract", "second hand", "open implementation", "from memory"];
        for reference in ALL {
            assert!(grades.iter().any(|grade| reference.read.contains(grade)), "{reference:?}");
            assert!(reference.full.ends_with('.') && reference.full.len() > reference.short.len(), "{reference:?}");
        }
    }
}
