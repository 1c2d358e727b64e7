//! The melanin law: absorption of the natural pigments against wavelength.
