//! The moisture content that wood takes in air of a temperature and a humidity.

/// A temperature, degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Celsius(pub f64);

impl Celsius {
    /// From degrees Fahrenheit: C = (F − 32)·5/9, by definition.
    #[must_use]
    pub fn from_fahrenheit(degrees: f64) -> Self {
        Self((degrees - 32.0) * 5.0 / 9.0)
    }

    /// In degrees Fahrenheit.
    #[must_use]
    pub fn fahrenheit(self) -> f64 {
        self.0 * 9.0 / 5.0 + 32.0
    }
}

/// Relative humidity, a share from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Humidity(pub f64);

/// Moisture content: water over dry wood by mass, per cent.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Moisture(pub f64);

/// The air around a board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Its temperature.
    pub temperature: Celsius,
    /// Its relative humidity.
    pub humidity: Humidity,
}

impl Air {
    /// The equilibrium moisture content (EMC): what wood left in this air comes to.
    ///
    /// With h the relative humidity and T in °C,
    ///
    /// EMC = 1800/W · [ K·h/(1 − K·h) + (K₁·K·h + 2·K₁·K₂·K²·h²) / (1 + K₁·K·h + K₁·K₂·K²·h²) ],
    ///
    /// W = 349 + 1.29 T + 0.0135 T², K = 0.805 + 0.000736 T − 0.00000273 T²,
    /// K₁ = 6.27 − 0.00938 T − 0.000303 T², K₂ = 1.91 + 0.0407 T − 0.000293 T².
    ///
    /// USDA Forest Products Laboratory, *Wood Handbook*, FPL-GTR-282 (2021), equation 4-5; the form
    /// in °C. The Handbook says that a tenth of a per cent means nothing for a real board; it is
    /// held to its own table 4-2 within that. Its range is −1.1 to 132.2 °C and 5 to 95 %.
    ///
    /// ```
    /// use quarterturn_geometry::movement::{Air, Celsius, Humidity};
    /// // Table 4-2: 70 °F and 30 % give 6.2 %.
    /// let air = Air { temperature: Celsius::from_fahrenheit(70.0), humidity: Humidity(0.30) };
    /// assert!((air.equilibrium().0 - 6.2).abs() < 0.1);
    /// ```
    #[must_use]
    pub fn equilibrium(&self) -> Moisture {
        let (t, h) = (self.temperature.0, self.humidity.0);
        let w = 349.0 + 1.29 * t + 0.0135 * t * t;
        let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
        let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
        let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
        let kh = k * h;
        let layers = k1 * kh + k1 * k2 * kh * kh;
        Moisture(1800.0 / w * (kh / (1.0 - kh) + (layers + k1 * k2 * kh * kh) / (1.0 + layers)))
    }
}

/// One season where the board is used.
#[derive(Clone, Debug, PartialEq)]
pub struct Season {
    /// Its name: `winter`.
    pub name: String,
    /// The air then.
    pub air: Air,
}

/// The seasons that a board goes through, two at least.
#[derive(Clone, Debug, PartialEq)]
pub struct Seasons {
    /// All of them, as the maker lists them.
    pub all: Vec<Season>,
    /// Whether they are our assumption, not the maker's word.
    pub assumed: bool,
}

impl Default for Seasons {
    /// A heated house that isn't humidified: 21 °C and 30 % in winter, 24 °C and 60 % in summer. An
    /// assumption, no source: kitchens differ.
    fn default() -> Self {
        let season = |name: &str, temperature, humidity| Season {
            name: name.into(),
            air: Air { temperature: Celsius(temperature), humidity: Humidity(humidity) },
        };
        Self { all: vec![season("winter", 21.0, 0.30), season("summer", 24.0, 0.60)], assumed: true }
    }
}

impl Seasons {
    /// The driest and the dampest season, each with what wood comes to in it; `None` of no seasons.
    #[must_use]
    pub fn extremes(&self) -> Option<[(&Season, Moisture); 2]> {
        let with = |season| {
            let season: &Season = season;
            (season, season.air.equilibrium())
        };
        let by = |a: &(&Season, Moisture), b: &(&Season, Moisture)| a.1.0.total_cmp(&b.1.0);
        Some([self.all.iter().map(with).min_by(by)?, self.all.iter().map(with).max_by(by)?])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The Handbook's table 4-2: the cells that were read in a public copy of it.
    const READ: [(f64, f64, f64); 11] = [
        (30.0, 75.0, 14.9),
        (30.0, 95.0, 24.3),
        (70.0, 5.0, 1.3),
        (70.0, 30.0, 6.2),
        (70.0, 50.0, 9.2),
        (70.0, 75.0, 14.4),
        (70.0, 85.0, 17.9),
        (70.0, 90.0, 20.5),
        (70.0, 95.0, 23.9),
        (100.0, 50.0, 8.7),
        (100.0, 90.0, 19.5),
    ];

    fn emc(fahrenheit: f64, percent: f64) -> f64 {
        let air = Air { temperature: Celsius::from_fahrenheit(fahrenheit), humidity: Humidity(percent / 100.0) };
        air.equilibrium().0
    }

    #[test]
    fn every_cell_that_was_read() {
        for (f, rh, printed) in READ {
            assert!((emc(f, rh) - printed).abs() <= 0.10, "{f} °F, {rh} %: {}", emc(f, rh));
        }
    }

    /// The whole of table 4-2 from 30 to 100 °F; all but those of [`READ`] are from memory, as the
    /// copy beside this file says.
    #[test]
    fn every_cell_of_the_table() {
        let (mut cells, mut read) = (0, 0);
        for line in include_str!("emc.csv").lines().filter(|line| !line.starts_with(['#', 't'])) {
            let row: Vec<&str> = line.split(',').collect();
            let [f, rh, printed] = [0, 1, 2].map(|i| row[i].parse::<f64>().unwrap());
            assert!((emc(f, rh) - printed).abs() <= 0.10, "{f} °F, {rh} %: {} for {printed}", emc(f, rh));
            cells += 1;
            if row[3] == "read" {
                read += 1;
                assert!(READ.contains(&(f, rh, printed)), "{line}");
            }
        }
        assert_eq!((cells, read), (152, READ.len()));
    }

    #[test]
    fn the_form_in_celsius_as_worked_apart() {
        for (rh, wanted) in [(0.35, 6.963), (0.50, 9.271), (0.65, 11.996), (0.80, 16.037)] {
            let air = Air { temperature: Celsius(20.0), humidity: Humidity(rh) };
            assert!((air.equilibrium().0 - wanted).abs() < 5e-4, "{rh}");
        }
    }

    #[test]
    fn the_driest_and_the_dampest_are_found_wherever_they_stand() {
        let mut seasons = Seasons::default();
        seasons.all.reverse();
        let [dry, damp] = seasons.extremes().unwrap();
        assert_eq!((dry.0.name.as_str(), damp.0.name.as_str()), ("winter", "summer"));
        assert!(Seasons { all: vec![], assumed: false }.extremes().is_none());
    }

    proptest! {
        #[test]
        fn damper_air_never_dries(t in -1.0..60.0f64, a in 0.05..0.95f64, b in 0.05..0.95f64) {
            let at = |h: f64| Air { temperature: Celsius(t), humidity: Humidity(h) }.equilibrium().0;
            prop_assert!((at(a) <= at(b)) == (a <= b) || a == b);
            prop_assert!(at(a) > 0.0 && at(a) < 30.0);
        }
    }
}
