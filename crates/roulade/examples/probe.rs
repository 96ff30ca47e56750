use std::fs::read_to_string as r;
fn main() {
    let a: Vec<String> = std::env::args().skip(1).collect();
    let t = std::time::Instant::now();
    let out = if a.len() == 1 {
        roulade::ask::estimate(&r(&a[0]).unwrap())
    } else if a[1] == "without" {
        roulade::ask::without(&format!("{{\"sheet\":{},\"part\":\"{}\"}}", r(&a[0]).unwrap(), a[2]))
    } else {
        roulade::ask::compare(&r(&a[0]).unwrap(), &r(&a[1]).unwrap())
    };
    eprintln!("{:?} {} bytes", t.elapsed(), out.len());
    println!("{out}");
}
