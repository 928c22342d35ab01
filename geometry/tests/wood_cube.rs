//! The model between two ends against a real cube of wood, where the reference folder has it.

#[path = "../../tests/src/cube.rs"]
#[allow(dead_code)]
mod cube;

/// Goals that the model has not reached; `tests/figures picture` shows them as not holding. Whoever
/// reaches one takes it off, and the test holds it from then on.
const NOT_REACHED: [&str; 6] = [
    "wood cube, given ends, E's lines: F",
    "wood cube, given ends, E's lines: A",
    "wood cube, given ends, C's lines: E",
    "wood cube, given ends, C's lines: A",
    "wood cube, given ends, E halfway: the rest of E",
    "wood cube, given ends, all four faces: share not shown as single rings",
];

#[test]
fn figures_stay_under_their_goals() -> Result<(), String> {
    let Some(folder) = cube::folder() else {
        println!("passed over: QUARTERTURN_REFERENCE names no folder with wood-cube");
        return Ok(());
    };
    let figures = cube::Cube::read(&folder)?.figures()?;
    for (name, value, goal) in &figures {
        println!("{name}: {value:.4}{}", goal.map_or(String::new(), |goal| format!(" (goal {goal:.4})")));
    }
    let over = figures.iter().filter(|(_, value, goal)| goal.is_some_and(|goal| *value > goal));
    assert_eq!(over.map(|(name, _, _)| name.as_str()).collect::<Vec<_>>(), NOT_REACHED);
    Ok(())
}

#[test]
fn the_match_is_three_with_a_margin() -> Result<(), String> {
    let Some(folder) = cube::folder() else {
        println!("passed over: QUARTERTURN_REFERENCE names no folder with wood-cube");
        return Ok(());
    };
    let wood = cube::Cube::read(&folder)?.given("", |_| true)?;
    println!("{:?}", wood.matched());
    assert_eq!((wood.matched().shift, wood.matched().shared), (3, 7));
    assert!(wood.matched().margin > 1.5);
    Ok(())
}
