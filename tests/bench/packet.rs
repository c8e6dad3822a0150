//! Making a packet: 200 photographs of 1200 by 900 dots, everything gathered, laid out and written.

use divan::Bencher;
use tackbook::actions::recorded::packet::draft;
use tackbook::domain::recorded::rounds::ReleaseRequest;
use tackbook::quantity::Units;

use crate::shop::{Shop, unseen};

#[divan::bench(args = [0, 120, 200], sample_count = 5, sample_size = 1)]
fn packet_with_photographs(bencher: Bencher, photos: usize) {
    let shop = Shop::new();
    let build = shop.build("Pine Coupe", photos);
    let make = || {
        shop.runtime.block_on(draft(&shop.office, build, ReleaseRequest::WholeCage, Units::Inch, &unseen())).unwrap()
    };
    let bytes = make().len();
    eprintln!("  {photos} photographs: {:.1} MB", f64::from(u32::try_from(bytes).unwrap()) / 1e6);
    bencher.bench_local(make);
}
