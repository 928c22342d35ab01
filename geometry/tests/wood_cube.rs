//! The model between two ends against a real cube of wood, where the reference folder has it.

#[path = "../../tests/src/cube.rs"]
#[allow(dead_code)]
mod cube;

#[test]
fn figures() {
    let Some(folder) = cube::folder() else {
        println!("passed over: QUARTERTURN_REFERENCE names no folder with wood-cube");
        return;
    };
    let cube = cube::Cube::read(&folder).unwrap();
    println!("{:?}", cube.given("", |_| true).unwrap().matched());
    for (name, value, goal) in cube.figures().unwrap() {
        println!("{name}: {value:.3} {}", goal.map_or(String::new(), |g| format!("goal {g:.3} {}", value <= g)));
    }
}
