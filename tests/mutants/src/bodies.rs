//! What may stand in for the whole of a function, by what it returns.

use syn::{GenericArgument, PathArguments, ReturnType, Type};

/// Values of the returned type, as Rust; those the compiler refuses are dropped later.
pub fn stand_ins(output: &ReturnType) -> Vec<String> {
    match output {
        ReturnType::Default => vec!["()".to_string()],
        ReturnType::Type(_, returned) => values(returned),
    }
}

fn values(of: &Type) -> Vec<String> {
    match of {
        Type::Path(path) => path.path.segments.last().map_or_else(Vec::new, of_path),
        Type::Tuple(tuple) if tuple.elems.is_empty() => owned(&["()"]),
        Type::Tuple(_) => owned(&["Default::default()"]),
        Type::Reference(reference) => match &*reference.elem {
            Type::Path(path) if path.path.is_ident("str") => owned(&["\"\"", "\"xyzzy\""]),
            Type::Slice(_) if reference.mutability.is_none() => owned(&["&[]"]),
            _ => Vec::new(),
        },
        _ => Vec::new(),
    }
}

fn of_path(segment: &syn::PathSegment) -> Vec<String> {
    let name = segment.ident.to_string();
    let first = first_argument(segment);
    match name.as_str() {
        "bool" => owned(&["true", "false"]),
        "u8" | "u16" | "u32" | "u64" | "usize" | "i8" | "i16" | "i32" | "i64" | "isize" => owned(&["0", "1"]),
        "f64" => owned(&["0.0", "1.0"]),
        "S" => owned(&["S::from(0.0)", "S::from(1.0)"]),
        "String" => owned(&["String::new()", "\"xyzzy\".to_string()"]),
        "Vec" => owned(&["vec![]"]),
        "Option" => {
            let inner = first.map(values).unwrap_or_default().into_iter();
            let some = inner.filter(|value| !value.contains("Default")).map(|value| format!("Some({value})"));
            std::iter::once("None".to_string()).chain(some).collect()
        }
        "Result" | "Checked" => match first {
            Some(first) => values(first).into_iter().map(|value| format!("Ok({value})")).collect(),
            None => owned(&["Ok(())"]),
        },
        _ => owned(&["Default::default()"]),
    }
}

fn first_argument(segment: &syn::PathSegment) -> Option<&Type> {
    let PathArguments::AngleBracketed(arguments) = &segment.arguments else { return None };
    arguments.args.iter().find_map(|argument| match argument {
        GenericArgument::Type(of) => Some(of),
        _ => None,
    })
}

fn owned(values: &[&str]) -> Vec<String> {
    values.iter().map(|value| value.to_string()).collect()
}
